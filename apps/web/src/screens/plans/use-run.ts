import { api, take } from '../../api/client.ts';
import { useRowEvents } from '../../api/use-row-events.ts';
import type { PlanRun } from './run-facts.ts';

export interface WatchedRun {
  readonly run: PlanRun;
  /** Whether the server's events are coming in; while they are not, the page asks now and then. */
  readonly live: boolean;
}

/** Follows a planning run by the server's events until it has ended. */
export function useRun(season: string, first: PlanRun, onEnded: (run: PlanRun) => void): WatchedRun {
  const path = { season, runId: first.id };
  const { row, live } = useRowEvents({
    first,
    eventsAt: `/api/v1/seasons/${encodeURIComponent(season)}/plan-runs/${encodeURIComponent(first.id)}/events`,
    ask: () => take(api.GET('/api/v1/seasons/{season}/plan-runs/{runId}', { params: { path } })),
    onEnded,
  });
  return { run: row, live };
}
