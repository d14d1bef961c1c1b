import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import type { Day } from '../../kernel/src/index.ts';
import {
  dueDay,
  judgeValue,
  overdueItems,
  predictedReadyDay,
  type ReadinessItem,
  readinessGate,
} from './index.ts';

const day = (number: number): Day => number as Day;
const item = (key: string, change: Partial<ReadinessItem> = {}): ReadinessItem => ({
  key,
  dueDaysBefore: 10,
  mustBeTrue: true,
  state: 'open',
  evidence: 'tick',
  value: null,
  toleranceLow: null,
  toleranceHigh: null,
  expectedDay: null,
  ...change,
});

describe('a measured value', () => {
  // Surface regularity class SR2 allows 5 mm under the straightedge (BS 8204, as restated by The Concrete Society).
  it.each([
    [5, 0, 5, 'ok'],
    [5.1, 0, 5, 'not ok'],
    [-0.1, 0, 5, 'not ok'],
    [4, null, 5, 'ok'],
    [null, 0, 5, 'cannot say'],
    [Number.NaN, 0, 5, 'cannot say'],
    [4, null, null, 'cannot say'],
  ])('%p within %p to %p: %s', (value, low, high, verdict) => {
    expect(judgeValue(value, low, high)).toBe(verdict);
  });
});

describe('the readiness gate', () => {
  it('opens when all that must be true is accepted or waived', () => {
    const items = [
      item('pad', { state: 'accepted' }),
      item('power', { state: 'waived' }),
      item('data line', { mustBeTrue: false }),
    ];
    expect(readinessGate(items)).toEqual({ open: true, missing: [], waived: ['power'] });
    expect(readinessGate([]).open).toBe(true);
  });

  it('stays shut for what is open, only claimed, refused, unmeasured or out of tolerance, and says which', () => {
    const level = { evidence: 'number', toleranceLow: 0, toleranceHigh: 5 } as const;
    const gate = readinessGate([
      item('pad'),
      item('power', { state: 'claimed' }),
      item('access', { state: 'refused' }),
      item('level', { ...level, state: 'accepted' }),
      item('flatness', { ...level, state: 'accepted', value: 6 }),
      item('height', { ...level, state: 'claimed', value: 3 }),
    ]);
    expect(gate.open).toBe(false);
    expect(gate.missing.map(({ reason }) => reason)).toEqual([
      'open',
      'claimed-not-accepted',
      'refused',
      'value-unknown',
      'value-outside',
      'claimed-not-accepted',
    ]);
  });

  it('never opens by an item getting worse', () => {
    const state = fc.constantFrom('open', 'claimed', 'accepted', 'refused', 'waived' as const);
    fc.assert(
      fc.property(fc.array(state, { minLength: 1 }), (states) => {
        const items = states.map((each, index) => item(String(index), { state: each }));
        const worse = [{ ...(items[0] as ReadinessItem), state: 'open' as const }, ...items.slice(1)];
        expect(readinessGate(worse).open).toBe(false);
        expect(readinessGate(items).open).toBe(
          states.every((each) => each === 'accepted' || each === 'waived'),
        );
      }),
    );
  });
});

describe('due days and the predicted ready day', () => {
  it('are counted from the start of the visit', () => {
    expect(dueDay(item('pad', { dueDaysBefore: 14 }), day(1000))).toBe(986);
    const items = [item('pad'), item('power', { state: 'accepted' })];
    expect(overdueItems(items, day(1000), day(991)).map(({ key }) => key)).toEqual(['pad']);
    expect(overdueItems(items, day(1000), day(990))).toEqual([]);
  });

  it('is the latest day that is expected of what is missing, and never lies behind us', () => {
    const items = [
      item('pad', { expectedDay: day(950) }),
      item('power', { expectedDay: day(970) }),
      item('gate', { state: 'accepted' }),
    ];
    expect(predictedReadyDay(items, day(900))).toEqual({ known: true, value: 970 });
    expect(predictedReadyDay(items, day(980))).toEqual({ known: true, value: 980 });
    expect(predictedReadyDay([item('gate', { state: 'accepted' })], day(980))).toEqual({
      known: true,
      value: null,
    });
    expect(predictedReadyDay([...items, item('road')], day(900))).toEqual({
      known: false,
      reason: 'expected-day-unknown',
      missing: ['road'],
    });
  });
});
