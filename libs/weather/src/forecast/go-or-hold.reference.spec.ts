import { describe, expect, it } from '@jest/globals';
import { cannotSay, known, parseInstant } from '../../../kernel/src/index.ts';
import { type GoOrHoldInput, goOrHold } from '../index.ts';

const base: GoOrHoldInput = {
  odds: known(0.7),
  oddsFrom: 'blend',
  forecast: { state: 'fresh', issuedAt: parseInstant('2027-05-03T00:00:00Z'), ageHours: 5 },
  costOfFailedStartCents: 100_000,
  costOfHoldingCents: 10_000,
  decisionDeadline: parseInstant('2027-05-03T14:00:00Z'),
  feeAfterDeadlineCents: 20_000,
  now: parseInstant('2027-05-03T05:30:00Z'),
  brokenLimits: [],
};
const decide = (changes: Partial<GoOrHoldInput>) => goOrHold({ ...base, ...changes });
const codes = (changes: Partial<GoOrHoldInput>) => decide(changes).reasons.map(({ code }) => code);

describe('go or hold', () => {
  // The cost-loss rule (Richardson 2000); the rows are hand-worked: protect means hold, loss means a failed start.
  it.each([
    [10, 100, 0.95, 'go', 'fail-chance-below-ratio'],
    [10, 100, 0.9, 'go', 'fail-chance-at-ratio'],
    [10, 100, 0.7, 'hold', 'fail-chance-above-ratio'],
    [200, 1000, 0.75, 'hold', 'fail-chance-above-ratio'],
    [500, 400, 0.1, 'go', 'holding-never-pays'],
  ])('holding costs %d, failing %d, odds %d: %s', (holding, failing, odds, advice, code) => {
    const answer = decide({
      odds: known(odds),
      costOfHoldingCents: holding,
      costOfFailedStartCents: failing,
    });
    expect(answer).toMatchObject({ advice, basis: 'forecast' });
    expect(answer.reasons).toContainEqual(expect.objectContaining({ code }));
    expect(answer.rule?.failChance).toBeCloseTo(1 - odds, 12);
    expect(answer.rule?.ratio).toBeCloseTo(holding / failing, 12);
    expect(answer.rule?.expectedFailCents).toBeCloseTo((1 - odds) * failing, 9);
  });

  it('tells the deadline, and counts the fee into holding once it is past', () => {
    expect(decide({}).deadline).toEqual({ at: base.decisionDeadline, past: false, minutesLeft: 510 });
    const atIt = decide({ now: parseInstant('2027-05-03T14:00:00Z') });
    expect(atIt).toMatchObject({ advice: 'hold', deadline: { past: false, minutesLeft: 0 } });
    const after = decide({ now: parseInstant('2027-05-03T14:01:00Z') });
    // 10 000 + 20 000 against a chance of 0.3 of 100 000: now both cost the same.
    expect(after).toMatchObject({ advice: 'go', rule: { holdingCents: 30_000 }, deadline: { past: true } });
    expect(after.reasons).toContainEqual({ code: 'deadline-past', minutesPast: 1, feeCents: 20_000 });
    expect(codes({ decisionDeadline: null })).toContain('deadline-unknown');
  });

  it('cannot say hold past the deadline when the fee is unknown, but an unknown fee never unmakes a go', () => {
    const late = { now: parseInstant('2027-05-03T15:00:00Z'), feeAfterDeadlineCents: null };
    expect(decide(late)).toMatchObject({ advice: 'cannot-say', basis: 'none' });
    expect(codes(late)).toContain('fee-after-deadline-unknown');
    expect(decide({ ...late, odds: known(0.99) }).advice).toBe('go');
  });

  it('says what is missing when odds or costs are unknown', () => {
    const noOdds = decide({ odds: cannotSay('no-odds', ['no-forecast', 'no-records']) });
    expect(noOdds).toMatchObject({ advice: 'cannot-say', rule: null });
    expect(noOdds.reasons).toContainEqual({
      code: 'odds-unknown',
      because: 'no-odds',
      missing: ['no-forecast', 'no-records'],
    });
    expect(decide({ costOfFailedStartCents: null })).toMatchObject({ advice: 'cannot-say', rule: null });
    expect(codes({ costOfFailedStartCents: null })).toContain('failed-start-cost-unknown');
    expect(codes({ costOfHoldingCents: null })).toContain('holding-cost-unknown');
  });

  it('never says go, nor hold, from a stale or missing forecast, and says since when', () => {
    const issuedAt = parseInstant('2027-05-01T00:00:00Z');
    for (const odds of [0, 0.5, 1]) {
      const stale = decide({
        odds: known(odds),
        forecast: { state: 'stale', issuedAt, ageHours: 53.5 },
      });
      expect(stale).toMatchObject({ advice: 'cannot-say', basis: 'none' });
      expect(stale.reasons).toContainEqual({ code: 'forecast-stale', issuedAt, ageHours: 53.5 });
      expect(stale.rule).not.toBeNull();
    }
    const missing = { state: 'missing', issuedAt: null, ageHours: null } as const;
    expect(decide({ forecast: missing })).toMatchObject({ advice: 'cannot-say' });
    expect(codes({ forecast: missing })).toContain('forecast-missing');
  });

  it('may hold on the records alone, named as such, but never goes on them', () => {
    for (const state of ['fresh', 'stale', 'missing'] as const) {
      const forecast = { state, issuedAt: null, ageHours: null };
      const hold = decide({ oddsFrom: 'records', forecast });
      expect(hold).toMatchObject({ advice: 'hold', basis: 'records-only' });
      expect(hold.reasons).toContainEqual({ code: 'odds-from-records-only' });
      const notGo = decide({ oddsFrom: 'records', forecast, odds: known(0.99) });
      expect(notGo).toMatchObject({ advice: 'cannot-say', basis: 'none' });
      expect(notGo.reasons).toContainEqual({ code: 'records-alone-never-say-go' });
    }
  });

  it('always leaves the lift to the competent person and carries the broken limits', () => {
    const brokenLimits = [
      {
        limit: 'gustMps',
        limitValue: 9,
        expectedValue: 12.4,
        firstHour: parseInstant('2027-05-04T09:00:00Z'),
        hours: 3,
      },
    ];
    for (const odds of [known(1), known(0), cannotSay('no-odds')]) {
      const answer = decide({ odds, brokenLimits });
      expect(answer.cautions).toEqual(['competent-person-decides-on-the-day-from-measured-wind']);
      expect(answer.brokenLimits).toEqual(brokenLimits);
    }
  });

  it('refuses odds that are none and negative money', () => {
    for (const wrong of [{ odds: known(1.2) }, { odds: known(Number.NaN) }, { costOfHoldingCents: -1 }]) {
      expect(() => decide(wrong)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
    }
  });
});
