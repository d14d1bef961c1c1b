// A worker process for silent-worker.spec.ts: takes one job, says so, and works until it is told that it lost it.
import { openQueue } from '../../../libs/queue/src/open-queue.ts';
import { TEST_JOBS } from './queue-bench.ts';

const say = (line: string) => process.stdout.write(`${line}\n`);
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };
const [databaseUrl = '', redisUrl = '', space = ''] = process.argv.slice(2);
const queue = await openQueue({ jobs: TEST_JOBS, databaseUrl, redisUrl, space, log });
await queue.consume({
  'test.quick': async ({ thingId }, { signal }) => {
    say(`started ${thingId}`);
    await new Promise((resolve) => signal.addEventListener('abort', resolve));
    say(`aborted ${signal.reason}`);
    throw new Error('lost');
  },
  'test.mail': async () => undefined,
});
process.once('SIGTERM', async () => {
  await queue.close(0);
  process.exit(0);
});
