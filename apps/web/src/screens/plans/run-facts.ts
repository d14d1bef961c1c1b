import type { Schema } from '../../api/client.ts';
import { type Binding, bindingWords } from '../../words/plan-words.ts';
import type { SeasonNames } from '../../words/season-names.ts';

export type PlanRun = Schema<'PlanRun'>;

/** How far a planning run is. What the planner has not said is null, never guessed. */
export interface RunProgress {
  readonly fraction: number | null;
  readonly bestCents: number | null;
  readonly iterations: number | null;
}

const numberIn = (value: unknown, name: string): number | null => {
  const found = typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : null;
  return typeof found === 'number' && Number.isFinite(found) ? found : null;
};

export function progressOf(run: PlanRun): RunProgress {
  return {
    fraction: numberIn(run.progress, 'fraction'),
    bestCents: numberIn(run.progress, 'bestCents'),
    iterations: numberIn(run.progress, 'iterations'),
  };
}

/** Whether a run goes on. */
export const isUnderWay = (run: PlanRun): boolean => run.state === 'queued' || run.state === 'running';

interface Clash {
  readonly jobs: readonly string[];
  readonly bindings: readonly Binding[];
}

/** Why a run came to no plan, in sentences; empty where there is nothing to say. */
export function refusalWords(run: PlanRun, names: SeasonNames, currency: string): string[] {
  const { result } = run;
  const clashes =
    typeof result === 'object' && result !== null ? (result as Record<string, unknown>)['clashes'] : null;
  if (!Array.isArray(clashes)) return [];
  return (clashes as Clash[]).flatMap((clash) => {
    const jobs = clash.jobs.map((job) => names.of('job', job)).join(' and ');
    return clash.bindings.map((binding) => `${jobs}: ${bindingWords(binding, names, currency)}`);
  });
}

/** What went wrong in a run that failed, as the server put it. */
export function faultWords(run: PlanRun): string | null {
  const { fault } = run;
  if (typeof fault === 'string') return fault;
  if (typeof fault !== 'object' || fault === null) return null;
  const words = fault as Record<string, unknown>;
  for (const name of ['message', 'detail', 'title', 'code'])
    if (typeof words[name] === 'string') return words[name];
  return JSON.stringify(fault);
}
