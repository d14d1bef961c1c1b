import { useEffect, useState } from 'react';
import { api, take } from '../../api/client.ts';
import { isUnderWay, type PlanRun } from './run-facts.ts';

const ASK_AGAIN_MS = 3000;

export interface WatchedRun {
  readonly run: PlanRun;
  /** Whether the server's events are coming in; while they are not, the page asks now and then. */
  readonly live: boolean;
}

/** Follows a planning run by the server's events until it has ended. */
export function useRun(season: string, first: PlanRun, onEnded: (run: PlanRun) => void): WatchedRun {
  const [run, setRun] = useState(first);
  const [live, setLive] = useState(false);
  const { id } = first;
  // biome-ignore lint/correctness/useExhaustiveDependencies: one run is followed once, whatever else is drawn again
  useEffect(() => {
    if (!isUnderWay(first)) return;
    const path = { season, runId: id };
    let over = false;
    let timer: number | undefined;
    const seen = (next: PlanRun): void => {
      if (over) return;
      setRun((old) => (next.version >= old.version ? next : old));
      if (isUnderWay(next)) return;
      stop();
      onEnded(next);
    };
    const ask = (): void => {
      take(api.GET('/api/v1/seasons/{season}/plan-runs/{runId}', { params: { path } }))
        .then(seen, () => undefined)
        .finally(() => {
          if (!over) timer = window.setTimeout(ask, ASK_AGAIN_MS);
        });
    };
    const events = new EventSource(
      `/api/v1/seasons/${encodeURIComponent(season)}/plan-runs/${encodeURIComponent(id)}/events`,
    );
    events.addEventListener('open', () => {
      setLive(true);
      window.clearTimeout(timer);
      timer = undefined;
    });
    events.addEventListener('run', (event) =>
      seen(JSON.parse((event as MessageEvent<string>).data) as PlanRun),
    );
    events.addEventListener('error', () => {
      setLive(false);
      timer ??= window.setTimeout(ask, ASK_AGAIN_MS);
    });
    const stop = (): void => {
      over = true;
      events.close();
      window.clearTimeout(timer);
    };
    return stop;
  }, [season, id]);
  return { run, live };
}
