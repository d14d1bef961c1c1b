import { type MouseEvent, type ReactNode, useSyncExternalStore } from 'react';

const BASE = '/app';
const listeners = new Set<() => void>();

/** An address inside the program: the path after `/app`, and what follows the question mark. */
export interface Place {
  readonly path: string;
  readonly query: URLSearchParams;
}

let seen = '';
let place: Place = { path: '/', query: new URLSearchParams() };

function read(): Place {
  const address = window.location.pathname + window.location.search;
  if (address === seen) return place;
  seen = address;
  const path = window.location.pathname.slice(BASE.length).replace(/\/+$/, '');
  place = { path: path === '' ? '/' : path, query: new URLSearchParams(window.location.search) };
  return place;
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  window.addEventListener('popstate', listener);
  return () => {
    listeners.delete(listener);
    window.removeEventListener('popstate', listener);
  };
}

/** Where the program is now; renders again when that changes. */
export function usePlace(): Place {
  return useSyncExternalStore(subscribe, read);
}

/** The address that a browser shows for a path inside the program. */
export const addressOf = (to: string): string => BASE + to;

/** Goes to a path such as `/plans?run=1`; `replace` leaves no entry to come back to. */
export function goTo(to: string, how: 'push' | 'replace' = 'push'): void {
  if (how === 'push') window.history.pushState(null, '', addressOf(to));
  else window.history.replaceState(null, '', addressOf(to));
  for (const listener of listeners) listener();
}

interface LinkProps {
  readonly to: string;
  readonly className?: string;
  readonly current?: boolean;
  readonly children: ReactNode;
}

/** A link inside the program; opens in a new tab as any link does. */
export function Link({ to, className, current = false, children }: LinkProps): ReactNode {
  const follow = (event: MouseEvent<HTMLAnchorElement>): void => {
    if (event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    goTo(to);
  };
  return (
    <a
      href={addressOf(to)}
      className={className}
      aria-current={current ? 'page' : undefined}
      onClick={follow}
    >
      {children}
    </a>
  );
}
