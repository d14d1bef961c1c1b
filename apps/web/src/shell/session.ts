import { useCallback, useEffect, useState } from 'react';
import { api, onSessionEnded, type Schema, take } from '../api/client.ts';
import { type Trouble, troubleOf } from '../api/problem.ts';

export type Me = Schema<'Me'>;

export type Session =
  | { readonly kind: 'asking' }
  | { readonly kind: 'out'; readonly ended: boolean }
  | { readonly kind: 'in'; readonly me: Me }
  | { readonly kind: 'trouble'; readonly trouble: Trouble };

export interface SessionControl {
  readonly session: Session;
  readonly askAgain: () => void;
  readonly signOut: () => Promise<void>;
}

/** Who is signed in; learns of it when any call finds that the session is over. */
export function useSession(): SessionControl {
  const [session, setSession] = useState<Session>({ kind: 'asking' });
  const ask = useCallback(() => {
    take(api.GET('/api/v1/me')).then(
      (me) => setSession({ kind: 'in', me }),
      (thrown: unknown) => {
        const trouble = troubleOf(thrown);
        if (trouble.status !== 401) setSession({ kind: 'trouble', trouble });
      },
    );
  }, []);
  useEffect(() => {
    const stop = onSessionEnded(() => setSession((old) => ({ kind: 'out', ended: old.kind === 'in' })));
    ask();
    return () => {
      stop();
    };
  }, [ask]);
  const signOut = useCallback(async () => {
    await take(api.DELETE('/api/v1/sessions/current'));
    setSession({ kind: 'out', ended: false });
  }, []);
  return { session, askAgain: ask, signOut };
}
