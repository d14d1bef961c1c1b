import { describe, expect, it } from '@jest/globals';
import { costLossChoice, relativeValue, type StatedChance, warningRates } from '../index.ts';

describe('the cost-loss rule', () => {
  // Act when the chance exceeds cost / loss (Richardson 2000); rows worked by hand.
  it.each([
    [10, 100, 0.05, 0.1, 5, 'do-not-protect'],
    [10, 100, 0.1, 0.1, 10, 'indifferent'],
    [10, 100, 0.3, 0.1, 30, 'protect'],
    [200, 1000, 0.25, 0.2, 250, 'protect'],
    [500, 400, 0.9, 1.25, 360, 'do-not-protect'],
  ])('cost %d, loss %d, chance %d', (costCents, lossCents, lossChance, ratio, expected, choice) => {
    const answer = costLossChoice({ costCents, lossCents, lossChance });
    expect(answer.choice).toBe(choice);
    expect(answer.ratio).toBeCloseTo(ratio, 9);
    expect(answer.expectedLossCents).toBeCloseTo(expected, 9);
  });

  it('never protects for more than the loss, and needs no ratio where nothing can be lost', () => {
    expect(costLossChoice({ costCents: 401, lossCents: 400, lossChance: 1 }).choice).toBe('do-not-protect');
    expect(costLossChoice({ costCents: 0, lossCents: 0, lossChance: 1 })).toMatchObject({
      choice: 'indifferent',
      ratio: null,
    });
  });

  it('refuses negative money and chances beyond 1', () => {
    for (const wrong of [{ costCents: -1 }, { lossCents: Number.NaN }, { lossChance: 1.01 }]) {
      const input = { costCents: 1, lossCents: 2, lossChance: 0.5, ...wrong };
      expect(() => costLossChoice(input)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
    }
  });
});

describe('the relative value of warnings', () => {
  // Formula of Richardson 2000; rows worked by hand and with another program. At ratio = share it is hit rate - false alarm rate.
  it.each([
    [0.8, 0.1, 0.3, 0.3, 0.7],
    [0.8, 0.1, 0.3, 0.2, 0.557142857142857],
    [0.8, 0.1, 0.3, 0.5, 0.566666666666667],
    [1, 0, 0.3, 0.2, 1],
    [0.6, 0.2, 0.1, 0.1, 0.4],
  ])(
    'hit %d, false alarm %d, share %d, ratio %d',
    (hitRate, falseAlarmRate, eventShare, costLossRatio, v) => {
      expect(relativeValue({ hitRate, falseAlarmRate, eventShare, costLossRatio })).toBeCloseTo(v, 9);
    },
  );

  it('is not said where foresight saves nothing', () => {
    expect(relativeValue({ hitRate: 1, falseAlarmRate: 0, eventShare: 0, costLossRatio: 0.2 })).toBeNull();
    expect(relativeValue({ hitRate: 1, falseAlarmRate: 0, eventShare: 0.2, costLossRatio: 1 })).toBeNull();
  });

  it('comes from counted expenses', () => {
    // The same value from the bill itself: expense = cost x warnings + loss x misses, against always or never protecting.
    const cases: StatedChance[] = [
      ...Array.from({ length: 30 }, (_, i) => ({ chance: i < 24 ? 0.9 : 0.1, happened: true })),
      ...Array.from({ length: 70 }, (_, i) => ({ chance: i < 7 ? 0.9 : 0.1, happened: false })),
    ];
    const rates = warningRates(cases, 0.5);
    expect(rates).toEqual({ hitRate: 0.8, falseAlarmRate: 0.1 });
    const [cost, loss] = [20, 100];
    const expense = (cost * 31 + loss * 6) / 100;
    const without = Math.min(cost, 0.3 * loss);
    const value = (without - expense) / (without - 0.3 * cost);
    expect(
      relativeValue({ hitRate: 0.8, falseAlarmRate: 0.1, eventShare: 0.3, costLossRatio: 0.2 }),
    ).toBeCloseTo(value, 12);
    expect(warningRates([], 0.5)).toEqual({ hitRate: null, falseAlarmRate: null });
  });
});
