import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { checkPlan, type PlanOutcome, type SeasonProblem } from '../../../../libs/season/src/index.ts';
import { planBesideYardstick } from '../../../worker/src/threads/planner-pool.ts';
import { type CommandInput, optionalText, UsageError, wholeNumber } from '../commands/command.ts';
import { ProgressLine } from './progress-line.ts';

const DEFAULT_SECONDS = 20;
const MOST_SECONDS = 86_400;
/** One press reaches a program twice when npm stands between: from the terminal and passed on by npm. */
const SAME_PRESS_MS = 1_000;
const EXIT_INTERRUPTED = 130;

export interface Planned {
  readonly outcome: PlanOutcome;
  /** Cost of first come, first served, as the yardstick; null where that is refused. */
  readonly firstComeCents: number | null;
  readonly stoppedEarly: boolean;
}

/**
 * The search that the options ask for: threads, progress on stderr, Ctrl-C keeps the best so far. Throws UsageError at once for wrong
 * options; the search itself throws `plan-not-valid` when the independent check refuses what the planner made.
 */
export function searchOf(input: CommandInput): (problem: SeasonProblem) => Promise<Planned> {
  const most = Number.MAX_SAFE_INTEGER;
  const seed = wholeNumber(input, 'seed', { min: -most, max: most, fallback: 1 });
  const threads = wholeNumber(input, 'threads', { min: 1, max: 64, fallback: 0 });
  const hasIterations = optionalText(input, 'iterations') !== undefined;
  if (hasIterations && optionalText(input, 'seconds') !== undefined) {
    throw new UsageError(
      'give --seconds or --iterations, not both: only tries alone can be repeated exactly',
    );
  }
  const budget = hasIterations
    ? { iterations: wholeNumber(input, 'iterations', { min: 0, max: 1_000_000_000, fallback: 0 }) }
    : { seconds: wholeNumber(input, 'seconds', { min: 1, max: MOST_SECONDS, fallback: DEFAULT_SECONDS }) };
  return async (problem) => {
    const stop = new AbortController();
    const progress = new ProgressLine(process.stderr, problem.currency);
    let stoppedAtMs = 0;
    const onInterrupt = (): void => {
      if (stop.signal.aborted) {
        if (performance.now() - stoppedAtMs > SAME_PRESS_MS) process.exit(EXIT_INTERRUPTED);
        return;
      }
      stoppedAtMs = performance.now();
      progress.end();
      input.say('stopping; the best plan so far is kept (Ctrl-C again throws it away)');
      stop.abort();
    };
    process.on('SIGINT', onInterrupt);
    try {
      const planned = await planBesideYardstick(problem, {
        seed,
        ...budget,
        ...(threads > 0 ? { threads } : {}),
        signal: stop.signal,
        onProgress: (state) => progress.show(state),
      });
      requireValid(problem, planned.outcome);
      return { ...planned, stoppedEarly: stop.signal.aborted };
    } finally {
      progress.end();
      process.removeListener('SIGINT', onInterrupt);
    }
  };
}

/** A plan leaves the program only if the independent check finds nothing. */
function requireValid(problem: SeasonProblem, outcome: PlanOutcome): void {
  if (outcome.kind !== 'plan') return;
  const { valid, violations } = checkPlan(problem, outcome.plan);
  if (!valid)
    throw new DryspellError('plan-not-valid', { breaches: violations.map(({ message }) => message) });
}
