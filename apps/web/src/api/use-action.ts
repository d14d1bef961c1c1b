import { useCallback, useRef, useState } from 'react';
import { type Trouble, troubleOf } from './problem.ts';

/** One thing that a person can do: whether it is under way, and what went wrong the last time. */
export interface Action<A extends readonly unknown[]> {
  readonly run: (...args: A) => Promise<boolean>;
  readonly busy: boolean;
  readonly trouble: Trouble | null;
  readonly clear: () => void;
}

/** Runs work once at a time; `run` resolves to whether it was done. */
export function useAction<A extends readonly unknown[]>(work: (...args: A) => Promise<void>): Action<A> {
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const latest = useRef(work);
  latest.current = work;
  const running = useRef(false);
  const run = useCallback(async (...args: A): Promise<boolean> => {
    if (running.current) return false;
    running.current = true;
    setBusy(true);
    setTrouble(null);
    try {
      await latest.current(...args);
      return true;
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
      return false;
    } finally {
      running.current = false;
      setBusy(false);
    }
  }, []);
  const clear = useCallback(() => setTrouble(null), []);
  return { run, busy, trouble, clear };
}
