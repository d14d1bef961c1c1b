import { useCallback, useEffect, useRef, useState } from 'react';
import { type Trouble, troubleOf } from './problem.ts';

/** What a screen asked the server for. While it is asked for again, `data` stays what it was. */
export interface Loaded<T> {
  readonly data: T | null;
  readonly trouble: Trouble | null;
  readonly busy: boolean;
  readonly reload: () => void;
}

/** Loads when the key changes (null: not yet) and when `reload` is called; an answer that is out of date is dropped. */
export function useLoaded<T>(key: string | null, load: (signal: AbortSignal) => Promise<T>): Loaded<T> {
  const [state, setState] = useState<{ key: string | null; data: T | null; trouble: Trouble | null }>({
    key: null,
    data: null,
    trouble: null,
  });
  const [round, setRound] = useState(0);
  const [busy, setBusy] = useState(key !== null);
  const latest = useRef(load);
  latest.current = load;
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round asks again with the same key
  useEffect(() => {
    if (key === null) return;
    const control = new AbortController();
    setBusy(true);
    latest.current(control.signal).then(
      (data) => {
        if (control.signal.aborted) return;
        setState({ key, data, trouble: null });
        setBusy(false);
      },
      (thrown: unknown) => {
        if (control.signal.aborted) return;
        const trouble = troubleOf(thrown);
        setState((old) => ({ key, data: old.key === key ? old.data : null, trouble }));
        setBusy(false);
      },
    );
    return () => control.abort();
  }, [key, round]);
  const reload = useCallback(() => setRound((old) => old + 1), []);
  const current = state.key === key;
  return {
    data: current ? state.data : null,
    trouble: current ? state.trouble : null,
    busy: busy || !current,
    reload,
  };
}
