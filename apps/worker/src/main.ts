import { DryspellError } from '../../../libs/kernel/src/index.ts';
import { reasonOf } from '../../../libs/queue/src/queue-error.ts';
import { readConfig, type WorkerConfig } from './config.ts';
import { createLog, type Log } from './log.ts';
import { type RunningWorker, startWorker } from './worker.ts';

/** After the drain time, how long a stop may still take before the process ends anyway. */
const LAST_WAIT_MS = 5_000;

function configOrExit(): WorkerConfig {
  try {
    return readConfig(process.env);
  } catch (error) {
    const data = error instanceof DryspellError ? error.data : {};
    createLog('error').fatal(
      { ...data },
      'the settings of the worker cannot be used; mend the named variables',
    );
    process.exit(2);
  }
}

const config = configOrExit();
const log: Log = createLog(config.logLevel);
let starting: Promise<RunningWorker> | undefined;
let stopping = false;

async function stop(why: string, exitCode: number): Promise<void> {
  if (stopping) return;
  stopping = true;
  log.info({ why }, 'worker is stopping');
  // A job that does not end, or a server that is gone, must not keep the process for ever: what is lost is done again.
  setTimeout(() => process.exit(exitCode || 1), config.drainMs + LAST_WAIT_MS).unref();
  const worker = await starting?.catch(() => undefined);
  await worker
    ?.stop()
    .catch((error: unknown) => log.warn({ reason: reasonOf(error) }, 'worker did not stop cleanly'));
  process.exit(exitCode);
}

for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) process.on(signal, () => void stop(signal, 0));
// The launcher was killed: nobody watches over this process any more.
if (process.send) process.on('disconnect', () => void stop('the parent process is gone', 0));
process.on('unhandledRejection', (error) => {
  log.fatal({ err: error }, 'a failure that nobody dealt with');
  void stop('unhandled failure', 1);
});

starting = startWorker(config, log);
starting.then(
  () => process.send?.({ kind: 'ready' }),
  (error: unknown) => {
    const data = error instanceof DryspellError ? error.data : {};
    log.fatal({ ...data, reason: reasonOf(error) }, 'the worker cannot start');
    process.exit(1);
  },
);
