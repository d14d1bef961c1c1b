/** How a state is shown: a word, a sign before it, and a tone that is never the only carrier of the meaning. */
export interface StateWords {
  readonly words: string;
  readonly sign: string;
  readonly tone: 'good' | 'warn' | 'bad' | 'plain';
}

const say = (words: string, sign: string, tone: StateWords['tone'] = 'plain'): StateWords => ({
  words,
  sign,
  tone,
});

const DELIVERY: Readonly<Record<string, StateWords>> = {
  pending: say('waiting', '…'),
  sending: say('sending', '→'),
  handing_over: say('sending', '→'),
  sent: say('sent', '✓', 'good'),
  failed: say('failed', '✕', 'bad'),
  uncertain: say('uncertain: may or may not have left', '?', 'warn'),
  held: say('held: not sent', '‖', 'warn'),
  cancelled: say('called off', '–'),
};

const READINESS: Readonly<Record<string, StateWords>> = {
  open: say('open', '○'),
  claimed: say('said to be ready, not yet seen', '?', 'warn'),
  accepted: say('accepted', '✓', 'good'),
  refused: say('returned', '✕', 'bad'),
  waived: say('done without', '–'),
};

const ASSIGNMENT: Readonly<Record<string, StateWords>> = {
  asked: say('asked, no answer yet', '?', 'warn'),
  accepted: say('accepted', '✓', 'good'),
  declined: say('declined', '✕', 'bad'),
  cancelled: say('called off', '–'),
};

const HOLD: Readonly<Record<string, StateWords>> = {
  needed: say('needed, nobody asked', '○', 'warn'),
  asked: say('asked, no answer yet', '?', 'warn'),
  held: say('held for us', '✓'),
  confirmed: say('confirmed', '✓', 'good'),
  declined: say('declined', '✕', 'bad'),
  done: say('done', '✓', 'good'),
  off: say('called off', '–'),
};

const PLAN: Readonly<Record<string, StateWords>> = {
  draft: say('draft', '○'),
  published: say('published', '✓', 'good'),
  superseded: say('was published before', '–'),
  discarded: say('put away', '–'),
};

const RUN: Readonly<Record<string, StateWords>> = {
  queued: say('waiting for a planner', '…'),
  running: say('planning', '→'),
  done: say('done', '✓', 'good'),
  stopped: say('stopped', '–'),
  failed: say('failed', '✕', 'bad'),
};

const VISIT: Readonly<Record<string, StateWords>> = {
  planned: say('planned', '○'),
  underway: say('under way', '→', 'good'),
  done: say('done', '✓', 'good'),
  cancelled: say('called off', '–'),
};

const WEATHER_IMPORT: Readonly<Record<string, StateWords>> = {
  receiving: say('on its way', '…'),
  queued: say('waits to be read', '…'),
  running: say('being read', '→'),
  done: say('read in', '✓', 'good'),
  failed: say('not read in', '✕', 'bad'),
};

const FORECAST: Readonly<Record<string, StateWords>> = {
  fresh: say('fresh', '✓', 'good'),
  stale: say('too old', '!', 'warn'),
  none: say('none', '?', 'warn'),
};

const TABLES = {
  delivery: DELIVERY,
  readiness: READINESS,
  assignment: ASSIGNMENT,
  hold: HOLD,
  plan: PLAN,
  run: RUN,
  visit: VISIT,
  weatherImport: WEATHER_IMPORT,
  forecast: FORECAST,
} as const;

export type StateOf = keyof typeof TABLES;

/** The words of a state; one that is not known is shown as it is, marked as unknown and never as passed. */
export function stateWords(of: StateOf, state: string): StateWords {
  const table = TABLES[of];
  const known = Object.hasOwn(table, state) ? table[state] : undefined;
  return known ?? say(`unknown (${state})`, '?', 'warn');
}
