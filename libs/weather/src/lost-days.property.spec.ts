import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { parseLocalDate, rngFromSeed, toDay } from '../../kernel/src/index.ts';
import {
  badDayChain,
  lostDaysOfStay,
  lostDaysTable,
  type MonthWeather,
  NO_ASSUMPTIONS,
  stationaryBadShare,
  UNKNOWN_MONTH,
} from './index.ts';

const chance = fc.double({ min: 0.02, max: 0.9, noNaN: true });
const chain = fc.record({ badAfterGood: chance, badAfterBad: chance });
const pattern = fc.array(fc.boolean(), { minLength: 1, maxLength: 5 });
const month = (values: Partial<MonthWeather>): MonthWeather => ({ ...UNKNOWN_MONTH, ...values });

describe('lost days', () => {
  it('are a distribution: chances of all lengths and of what lies beyond add up to one', () => {
    fc.assert(
      fc.property(chain, pattern, fc.boolean(), (weather, outside, inARow) => {
        const stay = lostDaysOfStay(outside, () => weather, { inARow, maxLostDays: 40 });
        expect(stay.chances.reduce((sum, part) => sum + part, 0) + stay.beyondChance).toBeCloseTo(1, 9);
        const withinReserve = stay.chances
          .slice(0, stay.reserveDays + 1)
          .reduce((sum, part) => sum + part, 0);
        expect(withinReserve + stay.beyondChance).toBeGreaterThanOrEqual(0.8 - 1e-9);
      }),
    );
  });

  it('never shrink when the weather gets worse or the confidence rises', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 0.6, noNaN: true }),
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        pattern,
        (bad, more, outside) => {
          const days = (share: number, reserveConfidence: number) =>
            lostDaysOfStay(outside, () => ({ badAfterGood: share, badAfterBad: share }), {
              reserveConfidence,
            });
          const [mild, harsh] = [days(bad, 0.8), days(bad + more, 0.8)];
          expect(harsh.expectedLostDays).toBeGreaterThanOrEqual(mild.expectedLostDays - 1e-9);
          expect(harsh.reserveDays).toBeGreaterThanOrEqual(mild.reserveDays);
          expect(days(bad, 0.95).reserveDays).toBeGreaterThanOrEqual(mild.reserveDays);
        },
      ),
    );
  });

  it('are none when nothing is outside or the weather is always good, and all when it is always bad', () => {
    expect(lostDaysOfStay([false, false], () => ({ badAfterGood: 1, badAfterBad: 1 })).expectedLostDays).toBe(
      0,
    );
    expect(lostDaysOfStay([true, true], () => ({ badAfterGood: 0, badAfterBad: 0 })).reserveDays).toBe(0);
    const never = lostDaysOfStay([true], () => ({ badAfterGood: 1, badAfterBad: 1 }), { maxLostDays: 20 });
    expect(never).toMatchObject({ beyondChance: 1, expectedLostDays: 20, reserveDays: 20 });
  });

  it('agree with a simulation of the same weather, drawn day by day', () => {
    // 40,000 draws; four standard errors of the mean is the allowance.
    const rng = rngFromSeed(20260501);
    const weather = { badAfterGood: 0.25, badAfterBad: 0.662 };
    const outside = [true, false, true, true];
    const draws: number[] = [];
    for (let draw = 0; draw < 40_000; draw++) {
      let bad = rng.uniform() < stationaryBadShare(weather);
      let done = 0;
      let taken = 0;
      for (;;) {
        taken += 1;
        if (!outside[done] || !bad) done += 1;
        else if (done === 3) done = 2;
        if (done === outside.length) break;
        bad = rng.uniform() < (bad ? weather.badAfterBad : weather.badAfterGood);
      }
      draws.push(taken - outside.length);
    }
    const mean = draws.reduce((sum, lost) => sum + lost, 0) / draws.length;
    const variance = draws.reduce((sum, lost) => sum + (lost - mean) ** 2, 0) / (draws.length - 1);
    const exact = lostDaysOfStay(outside, () => weather, { maxLostDays: 400 });
    expect(Math.abs(mean - exact.expectedLostDays)).toBeLessThan(4 * Math.sqrt(variance / draws.length));
  });
});

describe('the table of lost days', () => {
  const firstDay = toDay(parseLocalDate('2026-06-20'));
  const lastDay = toDay(parseLocalDate('2026-07-10'));

  it('is the one-day stay by hand: chance bad now, then a wait that ends with chance 1 - badAfterBad', () => {
    // One outside day, the same weather all year: mean lost = share / (1 - badAfterBad), by first-step analysis.
    const year = new Array(12).fill(month({ badDayShare: 0.3, badAfterBad: 0.5 }));
    const answer = lostDaysTable(year, [true, false], { firstDay, lastDay });
    if (!answer.known) throw new Error('the weather is known');
    expect(answer.value.expectedLostDays).toHaveLength(21);
    expect(new Set(answer.value.expectedLostDays)).toEqual(new Set([0.6]));
    // P(L <= 0) = 0.7, P(L <= 1) = 0.85: one day covers 80 % of stays.
    expect(new Set(answer.value.reserveDays)).toEqual(new Set([1]));
    expect(answer.value.assumed).toEqual([]);
  });

  it('takes each day from its own month', () => {
    const year = new Array(12).fill(month({ badDayShare: 0.1, badAfterBad: 0.1 }));
    year[6] = month({ badDayShare: 0.8, badAfterBad: 0.8 });
    const answer = lostDaysTable(year, [true], { firstDay, lastDay });
    if (!answer.known) throw new Error('the weather is known');
    const lost = answer.value.expectedLostDays;
    expect(lost[0]).toBeCloseTo(0.1111, 3);
    expect(lost[20]).toBeGreaterThan(3);
    expect(lost.at(10)).toBeGreaterThan(lost[0] as number);
  });

  it('cannot say when a month is unknown, unless something is assumed, and then says what', () => {
    const year = new Array(12).fill(month({ wetDayShare: 0.3, wetAfterWet: 0.5 }));
    const unknown = lostDaysTable(year, [true], { firstDay, lastDay: firstDay }, { maxLostDays: 5 });
    expect(unknown).toEqual({
      known: false,
      reason: 'weather-unknown',
      missing: ['6.windyDayShare', '6.coldDayShare'],
    });
    const assumed = lostDaysTable(
      year,
      [true],
      { firstDay, lastDay: firstDay },
      {
        maxLostDays: 5,
        assumptions: { ...NO_ASSUMPTIONS, windyDayShare: 0.1, coldDayShare: 0 },
      },
    );
    expect(assumed).toMatchObject({
      known: true,
      value: { assumed: [{ month: 6, names: ['windyDayShare', 'coldDayShare'] }] },
    });
  });
});

describe('bad days for several reasons', () => {
  it('keep the product of the good shares and never spell shorter than independent days', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.9, noNaN: true }),
        fc.double({ min: 0, max: 0.9, noNaN: true }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (wet, windy, correlation) => {
          const answer = badDayChain(month({ wetDayShare: wet, windyDayShare: windy, coldDayShare: 0 }), {
            ...NO_ASSUMPTIONS,
            correlation,
          });
          if (!answer.known) throw new Error('the weather is known');
          expect(1 - answer.value.badShare).toBeCloseTo((1 - wet) * (1 - windy), 9);
          expect(answer.value.chain.badAfterBad).toBeGreaterThanOrEqual(answer.value.badShare - 1e-9);
        },
      ),
    );
  });

  it('refuse a share outside 0 to 1', () => {
    expect(() => badDayChain(month({ wetDayShare: 1.2 }))).toThrow(
      expect.objectContaining({ code: 'invalid-input' }),
    );
  });
});
