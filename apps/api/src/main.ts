import 'reflect-metadata';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { pino } from 'pino';
import { allEndpoints } from '../../../libs/contracts/src/http/all.ts';
import { DryspellError } from '../../../libs/kernel/src/index.ts';
import { appModule } from './app.module.ts';
import { type ApiConfig, readConfig } from './config.ts';
import { buildServer } from './server.ts';

/** How long open requests may take when the server ends; then it ends anyway. */
const LAST_WAIT_MS = 10_000;

function configOrExit(): ApiConfig {
  try {
    return readConfig(process.env);
  } catch (error) {
    const data = error instanceof DryspellError ? error.data : {};
    pino().fatal({ ...data }, 'the settings of the API cannot be used; mend the named variables');
    process.exit(2);
  }
}

const config = configOrExit();
const log = pino({ level: config.logLevel });
let app: NestFastifyApplication | undefined;
let stopping = false;

async function stop(why: string, exitCode: number): Promise<void> {
  if (stopping) return;
  stopping = true;
  log.info({ why }, 'the API is stopping');
  setTimeout(() => process.exit(exitCode || 1), LAST_WAIT_MS).unref();
  try {
    await app?.close();
  } catch (error) {
    log.warn({ err: error }, 'the API did not stop cleanly');
  }
  process.exit(exitCode);
}

for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) process.on(signal, () => void stop(signal, 0));
// The launcher was killed: nobody watches over this process any more.
if (process.send) process.on('disconnect', () => void stop('the parent process is gone', 0));
process.on('unhandledRejection', (error) => {
  log.fatal({ err: error }, 'a failure that nobody dealt with');
  void stop('unhandled failure', 1);
});

try {
  app = await buildServer(appModule(config), config, allEndpoints);
  await app.listen({ port: config.port, host: config.host });
  const url = await app.getUrl();
  log.info({ url }, 'the API serves');
  process.send?.({ kind: 'ready', url });
} catch (error) {
  const data = error instanceof DryspellError ? error.data : {};
  log.fatal({ ...data, err: error }, 'the API cannot start');
  process.exit(1);
}
