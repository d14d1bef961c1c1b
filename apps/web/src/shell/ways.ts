import type { Me } from './session.ts';

export interface Way {
  readonly to: string;
  readonly words: string;
}

const MANAGER: readonly Way[] = [
  { to: '/', words: 'What next' },
  { to: '/sheet', words: 'Season sheet' },
  { to: '/plans', words: 'Plans' },
  { to: '/messages', words: 'Messages' },
  { to: '/jobs', words: 'Jobs' },
  { to: '/sites', words: 'Sites' },
  { to: '/weather', words: 'Weather' },
  { to: '/people', words: 'People' },
  { to: '/season-file', words: 'Season file' },
];

const OTHERS: Readonly<Record<string, readonly Way[]>> = {
  crew: [{ to: '/', words: 'My visits' }],
  customer: [{ to: '/', words: 'Getting ready' }],
  partner: [{ to: '/', words: 'What is asked of us' }],
};

/** The screens that somebody may go to. */
export function waysOf(me: Me): readonly Way[] {
  return me.role === 'manager' ? MANAGER : (OTHERS[me.role] ?? []);
}

/** The way that an address belongs to. */
export function wayOf(path: string, ways: readonly Way[]): Way | undefined {
  return [...ways]
    .reverse()
    .find((way) => (way.to === '/' ? path === '/' : path === way.to || path.startsWith(`${way.to}/`)));
}
