import { useEffect, useState } from 'react';

const ASK_AGAIN_MS = 3000;

/** A row of long work: its version grows with each change. */
interface LongWork {
  readonly id: string;
  readonly version: number;
  readonly finishedAt: unknown;
}

interface Input<Row extends LongWork> {
  /** The row as it was first seen. */
  readonly first: Row;
  /** Address of its server-sent events. */
  readonly eventsAt: string;
  readonly ask: () => Promise<Row>;
  readonly onEnded: (row: Row) => void;
}

export interface WatchedRow<Row> {
  readonly row: Row;
  /** Whether the server's events are coming in; while they are not, the page asks now and then. */
  readonly live: boolean;
}

/** Follows a row of long work by the server's events until it has ended. */
export function useRowEvents<Row extends LongWork>(input: Input<Row>): WatchedRow<Row> {
  const { first, eventsAt } = input;
  const [row, setRow] = useState(first);
  const [live, setLive] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: one row is followed once, whatever else is drawn again
  useEffect(() => {
    if (first.finishedAt !== null) return;
    let over = false;
    let timer: number | undefined;
    const seen = (next: Row): void => {
      if (over) return;
      setRow((old) => (next.version >= old.version ? next : old));
      if (next.finishedAt === null) return;
      stop();
      input.onEnded(next);
    };
    const ask = (): void => {
      input
        .ask()
        .then(seen, () => undefined)
        .finally(() => {
          if (!over) timer = window.setTimeout(ask, ASK_AGAIN_MS);
        });
    };
    const events = new EventSource(eventsAt);
    events.addEventListener('open', () => {
      setLive(true);
      window.clearTimeout(timer);
      timer = undefined;
    });
    events.addEventListener('run', (event) => seen(JSON.parse((event as MessageEvent<string>).data) as Row));
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
  }, [eventsAt]);
  return { row, live };
}
