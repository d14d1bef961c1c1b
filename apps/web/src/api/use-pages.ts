import { useCallback, useEffect, useRef, useState } from 'react';
import { type Trouble, troubleOf } from './problem.ts';

interface Page<T> {
  readonly items: readonly T[];
  readonly nextCursor: string | null;
}

/** A growing list, asked for page by page. */
export interface Pages<T> {
  readonly items: readonly T[] | null;
  readonly hasMore: boolean;
  readonly busy: boolean;
  readonly trouble: Trouble | null;
  readonly more: () => void;
  readonly reload: () => void;
}

interface State<T> {
  readonly key: string;
  readonly items: readonly T[];
  readonly cursor: string | null;
}

/** Loads the first page when the key changes, further ones on `more`; `reload` begins again. */
export function usePages<T>(
  key: string,
  load: (cursor: string | undefined, signal: AbortSignal) => Promise<Page<T>>,
): Pages<T> {
  const [state, setState] = useState<State<T> | null>(null);
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const [busy, setBusy] = useState(true);
  const [round, setRound] = useState(0);
  const latest = useRef(load);
  latest.current = load;
  const control = useRef<AbortController | null>(null);
  const fetchPage = useCallback((forKey: string, cursor: string | undefined, before: readonly T[]) => {
    control.current?.abort();
    const own = new AbortController();
    control.current = own;
    setBusy(true);
    setTrouble(null);
    latest.current(cursor, own.signal).then(
      (page) => {
        if (own.signal.aborted) return;
        setState({ key: forKey, items: [...before, ...page.items], cursor: page.nextCursor });
        setBusy(false);
      },
      (thrown: unknown) => {
        if (own.signal.aborted) return;
        setTrouble(troubleOf(thrown));
        setBusy(false);
      },
    );
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round asks again with the same key
  useEffect(() => {
    fetchPage(key, undefined, []);
    return () => control.current?.abort();
  }, [key, round, fetchPage]);
  const current = state?.key === key ? state : null;
  const more = useCallback(() => {
    if (current?.cursor) fetchPage(current.key, current.cursor, current.items);
  }, [current, fetchPage]);
  const reload = useCallback(() => setRound((old) => old + 1), []);
  return {
    items: current?.items ?? null,
    hasMore: current?.cursor != null,
    busy,
    trouble,
    more,
    reload,
  };
}

/** All pages of a list that is known to be short enough to hold at once. */
export async function allPages<T>(load: (cursor: string | undefined) => Promise<Page<T>>): Promise<T[]> {
  const items: T[] = [];
  let cursor: string | undefined;
  do {
    const page = await load(cursor);
    items.push(...page.items);
    cursor = page.nextCursor ?? undefined;
  } while (cursor !== undefined);
  return items;
}
