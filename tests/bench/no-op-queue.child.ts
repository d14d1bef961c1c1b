// The yardstick of the messages bench: a worker whose jobs do nothing, on the same queue.
import { openQueue } from '../../libs/queue/src/open-queue.ts';
import { NO_OP_JOBS, silentLog } from './no-op-job.ts';

const { DATABASE_URL: databaseUrl = '', REDIS_URL: redisUrl, SPACE: space = '' } = process.env;
const queue = await openQueue({ jobs: NO_OP_JOBS, databaseUrl, redisUrl, log: silentLog, space });
let left = 0;
process.on('message', ({ expect }: { expect: number }) => {
  left = expect;
  process.send?.({ kind: 'counting' });
});
await queue.consume({
  'bench.nothing': async () => {
    left -= 1;
    if (left === 0) process.send?.({ kind: 'done' });
  },
});
process.send?.({ kind: 'ready' });
process.on('SIGTERM', () => void queue.close(1000).then(() => process.exit(0)));
