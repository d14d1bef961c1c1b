import { describe, expect, it } from '@jest/globals';
import { brierParts, brierScore, reliabilityTable, type StatedChance, wilsonInterval } from '../index.ts';

const stated = (chance: number, count: number, events: number): StatedChance[] =>
  Array.from({ length: count }, (_, index) => ({ chance, happened: index < events }));

/** A worked hundred: the parts were computed by hand from Murphy's formula (1973) and again with another program. */
const hundred = [
  ...stated(0.1, 20, 1),
  ...stated(0.3, 30, 10),
  ...stated(0.7, 30, 20),
  ...stated(0.9, 20, 19),
];

describe('the Brier score', () => {
  it('and its parts are those of the worked hundred', () => {
    const parts = brierParts(hundred);
    expect(parts).toMatchObject({ known: true });
    if (!parts.known) return;
    expect(parts.value.baseShare).toBeCloseTo(0.5, 12);
    expect(parts.value.reliability).toBeCloseTo(1 / 600, 9);
    expect(parts.value.resolution).toBeCloseTo(0.0976666666667, 9);
    expect(parts.value.uncertainty).toBeCloseTo(0.25, 9);
    expect(parts.value.brier).toBeCloseTo(0.154, 9);
    expect(parts.value.skill).toBeCloseTo(0.384, 9);
    expect(parts.value.withinBinVariance).toBeCloseTo(0, 12);
    expect(parts.value.withinBinCovariance).toBeCloseTo(0, 12);
  });

  it('of four forecasts is the hand-computed one', () => {
    // (0.1^2 + 0.3^2 + 0.5^2 + 0.1^2) / 4
    const four = [...stated(0.9, 1, 1), ...stated(0.3, 1, 0), ...stated(0.5, 1, 1), ...stated(0.1, 1, 0)];
    expect(brierScore(four)).toEqual({ known: true, value: expect.closeTo(0.09, 9) });
  });

  it('cannot be said without a case', () => {
    expect(brierScore([])).toMatchObject({ known: false, reason: 'no-cases' });
    expect(brierParts([])).toMatchObject({ known: false, reason: 'no-cases' });
  });
});

describe('the reliability table', () => {
  it('counts what was stated and what happened, with an interval', () => {
    const table = reliabilityTable(hundred);
    expect(table.map(({ count }) => count)).toEqual([0, 20, 0, 30, 0, 0, 0, 30, 0, 20]);
    expect(table[3]).toMatchObject({ happened: 10, meanChance: expect.closeTo(0.3, 12) });
    expect(table[3]?.interval).toEqual(wilsonInterval(10, 30));
    expect(table[0]).toMatchObject({
      meanChance: null,
      observedShare: null,
      interval: { low: 0, high: 1 },
    });
  });

  it('puts every chance that opens a bin into that bin, and 1 into the last', () => {
    for (let percent = 0; percent < 100; percent += 1) {
      const table = reliabilityTable(stated(percent / 100, 1, 0), 100);
      expect(table.findIndex(({ count }) => count === 1)).toBe(percent);
    }
    expect(reliabilityTable(stated(1, 1, 1))[9]?.count).toBe(1);
  });

  it('refuses what is not a chance', () => {
    for (const chance of [-0.1, 1.1, Number.NaN]) {
      expect(() => reliabilityTable(stated(chance, 1, 0))).toThrow(
        expect.objectContaining({ code: 'invalid-input' }),
      );
    }
  });
});
