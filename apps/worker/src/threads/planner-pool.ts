import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import {
  bestAnswer,
  DEFAULT_ISLANDS,
  EXCHANGE_POINTS,
  type IslandAnswer,
  laggards,
  type PlanOutcome,
  type PlanProgress,
  type SeasonProblem,
  SharedProgress,
} from '../../../../libs/season/src/index.ts';
import type { FromThread, ThreadStart, ToThread } from './thread-messages.ts';

export interface ThreadPlanOptions {
  readonly seed: number;
  /** Iterations of all islands together. At least one of `iterations` and `seconds` is needed; the first that is used up ends the search. */
  readonly iterations?: number;
  /** Time for making ready and searching; what binds each date is worked out afterwards. */
  readonly seconds?: number;
  /** Default: the cores less one, at least 1; never more than islands. */
  readonly threads?: number;
  /** Part of what makes a plan reproducible. Default: `DEFAULT_ISLANDS`, or one for each thread without a budget of iterations. */
  readonly islands?: number;
  readonly onProgress?: (progress: ThreadPlanProgress) => void;
  /** Aborting ends the search and keeps the best plan so far. */
  readonly signal?: AbortSignal;
  /** The file that threads run; for tests. Default: `season-thread` beside this file. */
  readonly entry?: URL;
}

export interface ThreadPlanProgress extends PlanProgress {
  readonly elapsedMs: number;
}

/** A plan beside the yardstick: what first come, first served would cost. Null where that was refused, as the plan then is too. */
export interface PlanWithYardstick {
  readonly outcome: PlanOutcome;
  readonly firstComeCents: number | null;
}

/**
 * Plans a season in worker threads. Rejects with `invalid-input` for a problem that cannot be used or a budget that is missing, and with
 * `internal` when a thread dies; never hangs on one.
 */
export async function planWithThreads(
  problem: SeasonProblem,
  options: ThreadPlanOptions,
): Promise<PlanOutcome> {
  return (await runThreads(problem, options, false)).outcome;
}

/** The same, with the cost of first come, first served beside it, worked out in a thread too. */
export function planBesideYardstick(
  problem: SeasonProblem,
  options: ThreadPlanOptions,
): Promise<PlanWithYardstick> {
  return runThreads(problem, options, true);
}

async function runThreads(
  problem: SeasonProblem,
  options: ThreadPlanOptions,
  withYardstick: boolean,
): Promise<PlanWithYardstick> {
  const { seed, iterations, seconds, signal } = options;
  if (iterations === undefined && seconds === undefined) {
    throw new DryspellError('invalid-input', {
      field: 'iterations',
      expected: 'a budget: iterations, seconds or both',
    });
  }
  const startedMs = performance.now();
  const wanted = Math.max(1, options.threads ?? availableParallelism() - 1);
  // Without a budget of iterations nothing is promised to be reproducible, and one long search for each thread finds more than several short ones.
  const islands = Math.max(1, options.islands ?? (iterations === undefined ? wanted : DEFAULT_ISLANDS));
  const threads = Math.min(islands, wanted);
  const stopFlag = new SharedArrayBuffer(4);
  const stop = (): void => {
    Atomics.store(new Int32Array(stopFlag), 0, 1);
  };
  if (signal?.aborted) stop();
  signal?.addEventListener('abort', stop, { once: true });
  const progress = new SharedProgress(islands, (state) =>
    options.onProgress?.({ ...state, elapsedMs: performance.now() - startedMs }),
  );
  const crew = Array.from({ length: threads }, (_, thread) => {
    const indexes = Array.from({ length: islands }, (_, index) => index).filter(
      (index) => index % threads === thread,
    );
    const start: ThreadStart = {
      problem,
      seed,
      islands,
      indexes,
      iterations: iterations ?? null,
      durationMs: seconds === undefined ? null : seconds * 1000,
      stopFlag,
    };
    return new PlannerThread(options.entry ?? defaultEntry(), start, progress);
  });
  try {
    return await conduct(crew, withYardstick);
  } finally {
    signal?.removeEventListener('abort', stop);
    await Promise.all(crew.map((thread) => thread.end()));
  }
}

/** Runs the islands from one exchange to the next, then lets the first thread write the plan. */
async function conduct(crew: readonly PlannerThread[], withYardstick: boolean): Promise<PlanWithYardstick> {
  const firsts = await Promise.all(crew.map((thread) => thread.next()));
  for (const first of firsts) if (first.kind === 'outcome') return yardstickOf(first);
  let answers: IslandAnswer[] = [];
  for (const until of EXCHANGE_POINTS) {
    const adopt = answers.length > 0 ? bestAnswer(answers) : null;
    const message: ToThread = { kind: 'run', until, adopt, laggards: adopt ? laggards(answers) : [] };
    const replies = await Promise.all(crew.map((thread) => thread.ask(message)));
    answers = replies
      .flatMap((reply) => (reply.kind === 'answers' ? reply.answers : []))
      .sort((a, b) => a.island - b.island);
  }
  const last = await crew[0]!.ask({ kind: 'finish', answers, withYardstick });
  if (last.kind !== 'outcome') throw new DryspellError('internal', { thread: 'season', said: last.kind });
  return yardstickOf(last);
}

function yardstickOf({ outcome, firstComeCents }: PlanWithYardstick): PlanWithYardstick {
  return { outcome, firstComeCents };
}

/** One thread: messages go in, and each `next` waits for the next one that is no mere progress, or for the thread's end. */
class PlannerThread {
  private readonly worker: Worker;
  private readonly waiting: { resolve(message: FromThread): void; reject(error: unknown): void }[] = [];
  private readonly arrived: FromThread[] = [];
  private failure: unknown = null;

  constructor(entry: URL, start: ThreadStart, progress: SharedProgress) {
    this.worker = new Worker(entry, { workerData: start, ...execArgvFor(entry) });
    this.worker.on('message', (message: FromThread) => {
      if (message.kind === 'progress') progress.note(message.island, message);
      else this.deliver(message);
    });
    this.worker.on('error', (error) => this.fail(error));
    this.worker.on('messageerror', (error) => this.fail(error));
    this.worker.on('exit', (code) => this.fail(new Error(`planner thread ended with code ${code}`)));
  }

  next(): Promise<FromThread> {
    const message = this.arrived.shift();
    if (message) return Promise.resolve(message);
    if (this.failure) return Promise.reject(this.failure);
    return new Promise((resolve, reject) => this.waiting.push({ resolve, reject }));
  }

  ask(message: ToThread): Promise<FromThread> {
    this.worker.postMessage(message);
    return this.next();
  }

  async end(): Promise<void> {
    await this.worker.terminate();
  }

  private deliver(message: FromThread): void {
    const waiter = this.waiting.shift();
    if (waiter) waiter.resolve(message);
    else this.arrived.push(message);
  }

  private fail(error: unknown): void {
    this.failure ??= asPlannerError(error);
    for (const waiter of this.waiting.splice(0)) waiter.reject(this.failure);
  }
}

/** A coded error keeps its code on the way out of a thread only as fields; anything else is a crash. */
function asPlannerError(error: unknown): DryspellError {
  const { code, data } = (error ?? {}) as { code?: unknown; data?: Record<string, unknown> };
  if (code === 'invalid-input') return new DryspellError('invalid-input', data ?? {}, error);
  return new DryspellError('internal', { thread: 'season' }, error);
}

function defaultEntry(): URL {
  const extension = import.meta.url.endsWith('.ts') ? 'ts' : 'js';
  return new URL(`./season-thread.${extension}`, import.meta.url);
}

/** Sources need the loader; built files run as they are. Flags of the parent (a test runner's, say) are not handed on. */
function execArgvFor(entry: URL): { execArgv: string[] } {
  if (!entry.pathname.endsWith('.ts')) return { execArgv: [] };
  return { execArgv: ['--import', new URL('../../../cli/tools/register-ts.mjs', import.meta.url).href] };
}
