import { expect, test } from '@jest/globals';
import {
  chainMarks,
  lanesOf,
  reachOf,
  stacked,
  stayMarks,
} from '../../../apps/web/src/screens/sheet/chain.ts';
import type { SheetJob } from '../../../apps/web/src/screens/sheet/sheet-model.ts';
import { stateWords } from '../../../apps/web/src/words/state-words.ts';

const job = (changes: Partial<SheetJob> = {}): SheetJob => ({
  key: 'a',
  title: 'A dome',
  visitKind: 'build',
  siteReadyFrom: '2027-05-10',
  goodsFrom: null,
  promisedBy: '2027-06-18',
  visit: {
    crewKey: 'larch',
    crewName: 'Larch',
    days: [
      { date: '2027-05-17', outside: true, hours: 9 },
      { date: '2027-05-18', outside: false, hours: 8 },
      { date: '2027-05-19', outside: null, hours: null },
    ],
    reserve: ['2027-05-20'],
    deliveryDay: '2027-05-14',
    lift: { name: 'Telehandler', days: ['2027-05-17'] },
    people: [],
    equipment: [],
    fromBase: true,
    costLines: [],
    why: [],
  },
  whyNot: [],
  openMusts: 0,
  ...changes,
});

test('a chain holds site-ready day, goods, lift, the days of the stay, reserve and promise', () => {
  expect(chainMarks(job()).map((mark) => `${mark.kind} ${mark.date}`)).toEqual([
    'ready 2027-05-10',
    'goods 2027-05-14',
    'lift 2027-05-17',
    'promised 2027-06-18',
  ]);
  expect(stayMarks(job()).map((mark) => mark.kind)).toEqual(['outside', 'inside', 'unknown', 'reserve']);
  expect(reachOf(job())).toEqual({ from: '2027-05-10', to: '2027-06-18' });
});

test('jobs whose chains meet lie in lanes of their own; a later job goes back to the first lane', () => {
  const second = job({ key: 'b', siteReadyFrom: '2027-06-01', promisedBy: '2027-07-01', visit: null });
  const third = job({ key: 'c', siteReadyFrom: '2027-06-19', promisedBy: '2027-08-01', visit: null });
  expect(lanesOf([third, second, job()]).map((lane) => lane.map(({ key }) => key))).toEqual([
    ['a', 'c'],
    ['b'],
  ]);
});

test('marks of one day do not cover one another', () => {
  const places = stacked([
    { kind: 'ready', date: '2027-05-10' },
    { kind: 'goods', date: '2027-05-10' },
    { kind: 'lift', date: '2027-05-11' },
  ]);
  expect(places.map(({ place, of }) => [place, of])).toEqual([
    [0, 2],
    [1, 2],
    [0, 1],
  ]);
});

test('a state that the pages do not know is shown as unknown, never as passed', () => {
  for (const kind of ['delivery', 'readiness', 'assignment', 'hold', 'plan', 'run', 'visit'] as const) {
    const words = stateWords(kind, 'something-new');
    expect(words.words).toBe('unknown (something-new)');
    expect(words.tone).toBe('warn');
  }
  expect(stateWords('delivery', 'held').words).toContain('not sent');
  expect(stateWords('delivery', 'constructor').tone).toBe('warn');
});
