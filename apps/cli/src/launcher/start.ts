import { createDatabase } from '../../../../libs/data/src/database.ts';
import { applyMigrations } from '../../../../libs/data/src/migrate.ts';
import { HELP, readStartOptions, type StartOptions, UsageError } from '../../bootstrap/start-options.mjs';
import { isPortFree } from '../postgres/free-port.ts';
import { PlainError, plainLine } from '../program/plain-error.ts';
import { migrationsFolder, programVersion } from '../program/program-root.ts';
import { type Supervised, supervise } from './child-process.ts';
import { addressLines, planLines } from './closing-lines.ts';
import { type DataFolder, dataFolderPath, filesFolderOf, openDataFolder } from './data-folder.ts';
import { openDatabase } from './database.ts';
import { prepareData, type ShownPlan, type SignInLink } from './prepare-data.ts';
import { checkQueue } from './queue-check.ts';
import { holdRunningLock } from './running-lock.ts';
import { openSettings, type Settings } from './settings.ts';
import { StageReport } from './stage-report.ts';
import { watchServer } from './watch-server.ts';

type Environment = Readonly<Record<string, string | undefined>>;

/** How long children of a killed launcher may need to notice it and let go of the port. */
const LET_GO_MS = 8_000;

/** Things to undo, last first; each once. */
class Undo {
  private readonly steps: (() => Promise<void> | void)[] = [];

  add(step: () => Promise<void> | void): void {
    this.steps.push(step);
  }

  async all(say: (line: string) => void): Promise<void> {
    for (const step of this.steps.splice(0).reverse()) {
      try {
        await step();
      } catch (error) {
        say(plainLine(error)); // the other steps still have to run
      }
    }
  }
}

async function requirePort(port: number, host: string, afterKill: boolean): Promise<void> {
  const giveUpAt = Date.now() + (afterKill ? LET_GO_MS : 0);
  while (!(await isPortFree(port, host))) {
    if (Date.now() >= giveUpAt) {
      throw new PlainError(
        `port ${port} is taken by another program. Stop that one, or pass --port with another number.`,
      );
    }
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

function publicUrlOf(options: StartOptions, environment: Environment): string {
  const asked = environment['DRYSPELL_PUBLIC_URL'];
  if (asked !== undefined && asked !== '') return new URL(asked).origin;
  const anyAddress = options.host === '0.0.0.0' || options.host === '::' || options.host === '127.0.0.1';
  return `http://${anyAddress ? 'localhost' : options.host}:${options.port}`;
}

function childEnvironment(
  options: StartOptions,
  environment: Environment,
  own: { databaseUrl: string; settings: Settings; folder: DataFolder; publicUrl: string },
): Record<string, string> {
  return {
    HOST: options.host,
    PORT: String(options.port),
    DATABASE_URL: own.databaseUrl,
    DRYSPELL_PUBLIC_URL: own.publicUrl,
    DRYSPELL_SECRET: environment['DRYSPELL_SECRET'] || own.settings.secret,
    DRYSPELL_FILES_DIR: filesFolderOf(own.folder.root, environment),
    DRYSPELL_LOG_LEVEL: environment['DRYSPELL_LOG_LEVEL'] || 'warn',
    NODE_ENV: environment['NODE_ENV'] || 'production',
  };
}

interface RunInput {
  readonly options: StartOptions;
  readonly environment: Environment;
  readonly report: StageReport;
  readonly undo: Undo;
  /** Aborted when the start is told to stop. */
  readonly signal: AbortSignal;
}

async function run({ options, environment, report, undo, signal }: RunInput): Promise<void> {
  const say = (line: string): void => report.say(line);
  const databaseUrl = environment['DATABASE_URL'] || undefined;
  const redisUrl = environment['REDIS_URL'] || undefined;
  const publicUrl = publicUrlOf(options, environment);

  report.line(`Dryspell ${programVersion()}`);
  const root = dataFolderPath(options.data);
  const lock = holdRunningLock(root);
  undo.add(() => lock.release());
  await requirePort(options.port, options.host, lock.afterKill);
  if (redisUrl !== undefined) {
    await report.stage('queue', async () => ({ value: undefined, said: await checkQueue('', redisUrl) }));
  }
  const folder = openDataFolder(root, databaseUrl === undefined, say);
  const settings = openSettings(folder.settingsFile);

  const database = await report.stage('database', async () => {
    const value = await openDatabase(folder, settings, databaseUrl, say);
    return { value, said: value.shownAs };
  });
  let { stop } = database;
  undo.add(() => stop());
  if (database.embedded !== undefined) {
    const restart = async (): Promise<number> => {
      const again = await openDatabase(folder, settings, undefined, say);
      ({ stop } = again);
      return again.embedded?.pid ?? 0;
    };
    const watch = watchServer(database.embedded.pid, restart, say);
    undo.add(() => watch.stop());
  }
  await report.stage('migrations', async () => {
    const { applied } = await applyMigrations({
      databaseUrl: database.url,
      migrationsDir: migrationsFolder(),
    });
    return { value: undefined, said: applied.length === 0 ? 'up to date' : `${applied.length} applied` };
  });
  if (redisUrl === undefined) {
    await report.stage('queue', async () => ({
      value: undefined,
      said: await checkQueue(database.url, undefined),
    }));
  }

  const db = createDatabase({ url: database.url, maxConnections: 2 });
  let data: { plans: ShownPlan[]; signIn: SignInLink };
  try {
    data = await prepareData(db, { demo: options.demo, publicUrl, report, signal });
  } finally {
    await db.close();
  }

  const env = childEnvironment(options, environment, {
    databaseUrl: database.url,
    settings,
    folder,
    publicUrl,
  });
  for (const name of ['api', 'worker'] as const) {
    await report.stage(name, async () => {
      const child: Supervised = supervise({ name, entry: `dist/apps/${name}/src/main.js`, env, say });
      undo.add(() => child.stop());
      await child.ready;
      return { value: undefined, said: `process ${child.pid()}` };
    });
  }
  lock.noteUrl(publicUrl);
  for (const line of [...planLines(data.plans), '', ...addressLines(publicUrl, data.signIn)])
    report.line(line);
}

/** `npm start`: runs until it is told to stop. Sets the exit code; prints one line and a next step for each failure. */
export async function startDryspell(args: readonly string[]): Promise<void> {
  const report = new StageReport((line) => process.stdout.write(`${line}\n`));
  const undo = new Undo();
  const aborting = new AbortController();
  let stopping: Promise<never> | undefined;
  const stop = (why: string, exitCode: number): Promise<never> => {
    stopping ??= (async () => {
      aborting.abort();
      if (why !== '') report.line(`\n${why}`);
      await undo.all((line) => report.say(line));
      if (exitCode === 0) report.line('stopped; the data is kept');
      process.exit(exitCode);
    })();
    return stopping;
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.on(signal, () => void stop(`${signal}: stopping`, 0));
  }
  try {
    await run({
      options: readStartOptions(args),
      environment: process.env,
      report,
      undo,
      signal: aborting.signal,
    });
  } catch (error) {
    if (stopping !== undefined) return stopping; // the failure is that of a start which was told to stop
    process.stderr.write(`✗ ${plainLine(error)}\n${error instanceof UsageError ? `\n${HELP}\n` : ''}`);
    await stop('', error instanceof UsageError ? 2 : 1);
  }
}
