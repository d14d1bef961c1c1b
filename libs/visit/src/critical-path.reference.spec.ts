import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { classicPertVariance, normalCdf, pertMean } from '../../freight/src/index.ts';
import {
  type CriticalPath,
  criticalPath,
  durationWithHands,
  type StepOrder,
  type VisitStep,
} from './index.ts';

const step = (key: string, durationMin: number): VisitStep => ({
  key,
  durationMin,
  minHands: 0,
  maxHands: 0,
});
const order = (before: string, after: string, minLagMin = 0, maxLagMin: number | null = null): StepOrder => ({
  before,
  after,
  minLagMin,
  maxLagMin,
});

function pathOf(steps: VisitStep[], orders: StepOrder[], hands?: number): CriticalPath {
  const result = criticalPath(steps, orders, hands);
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result.problem)}`);
  return result.value;
}

/** A network with activities on arrows, `from-to:duration`: one activity follows another where its arrow starts. */
function onArrows(text: string): CriticalPath {
  const arrows = text.split(' ').map((part) => /^(\d+)-(\d+):(\d+)$/.exec(part)!.slice(1));
  const steps = arrows.map(([from, to, length]) => step(`${from}-${to}`, Number(length)));
  const orders = arrows.flatMap(([from, to]) =>
    arrows.filter(([next]) => next === to).map(([a, b]) => order(`${from}-${to}`, `${a}-${b}`)),
  );
  return pathOf(steps, orders);
}

/** A network with activities on nodes, `name duration predecessors` each. */
function onNodes(rows: readonly string[], length: (text: string) => number = Number): CriticalPath {
  const parsed = rows.map((row) => row.split(' '));
  const steps = parsed.map(([key, text]) => step(key!, length(text!)));
  const orders = parsed.flatMap(([key, , before]) =>
    before ? [...before].map((each) => order(each, key!)) : [],
  );
  return pathOf(steps, orders);
}

const slack = (path: CriticalPath): Record<string, number> =>
  Object.fromEntries(
    path.steps.filter((each) => !each.critical).map((each) => [each.key, Number(each.slackMin.toFixed(4))]),
  );

describe('the critical path', () => {
  it('of the first network of Taylor, Introduction to Management Science, ch. 8', () => {
    const path = onArrows('1-2:7 1-3:10 2-4:6 3-4:5 3-5:4 4-5:3 5-6:2');
    expect(path.finishMin).toBe(20);
    expect(path.chain).toEqual(['1-3', '3-4', '4-5', '5-6']);
    expect(slack(path)).toEqual({ '1-2': 2, '2-4': 2, '3-5': 4 });
  });

  it('of the second one, which has a dummy activity', () => {
    const path = onArrows(
      '1-2:8 1-3:10 1-4:9 2-5:6 2-6:4 3-5:5 4-5:0 4-7:7 5-7:12 5-8:15 6-9:18 7-8:4 8-9:7',
    );
    expect(path.finishMin).toBe(38);
    expect(path.chain).toEqual(['1-3', '3-5', '5-7', '7-8', '8-9']);
    expect(slack(path)).toEqual({
      '1-2': 1,
      '1-4': 6,
      '2-5': 1,
      '2-6': 8,
      '4-5': 6,
      '4-7': 11,
      '5-8': 1,
      '6-9': 8,
    });
  });

  it('of a course example with fourteen activities (open course module, activities on nodes)', () => {
    const path = onNodes([
      'A 2',
      'B 10 A',
      'C 13 A',
      'D 12 A',
      'E 12 B',
      'F 7 B',
      'G 10 D',
      'H 16 D',
      'I 6 F',
      'J 12 CG',
      'K 5 I',
      'L 8 EK',
      'M 5 H',
      'N 3 JLM',
    ]);
    expect(path.finishMin).toBe(41);
    expect(path.chain.join('')).toBe('ABFIKLN');
  });

  it('of a three-point network, with its variance and the chance of a date', () => {
    // Taylor, ch. 8; slack of G, J and L and both chances recomputed.
    const estimates: Record<string, [number, number, number]> = {
      A: [5, 5, 7],
      B: [1, 2, 5],
      C: [5, 5, 5],
      D: [4, 8, 13],
      E: [1, 10, 17],
      F: [1, 5, 7],
      G: [2, 6, 9],
      H: [4, 4, 6],
      I: [2, 7, 10],
      J: [2, 4, 7],
      K: [6, 10, 13],
      L: [2, 6, 6],
      M: [2, 2, 3],
      N: [7, 7, 12],
    };
    const three = (name: string) => ({
      low: estimates[name]![0],
      likely: estimates[name]![1],
      high: estimates[name]![2],
    });
    const rows = [
      'A A',
      'B B',
      'C C A',
      'D D A',
      'E E BC',
      'F F D',
      'G G D',
      'H H EF',
      'I I GH',
      'J J I',
      'K K I',
      'L L J',
      'M M K',
      'N N LM',
    ];
    const path = onNodes(rows, (name) => pertMean(three(name)));
    expect(path.finishMin).toBeCloseTo(50.8333, 4);
    expect(path.chain.join('')).toBe('ACEHIKMN');
    expect(slack(path)).toMatchObject({ B: 8, D: 1.8333, F: 1.8333, G: 5, J: 2.5, L: 2.5 });
    const variance = path.chain.reduce((sum, name) => sum + classicPertVariance(three(name)), 0);
    expect(variance).toBeCloseTo(11.1944, 4);
    const chance = (by: number): number => normalCdf((by - path.finishMin) / Math.sqrt(variance));
    expect(chance(53)).toBeCloseTo(0.7414, 4);
    expect(chance(55)).toBeCloseTo(0.8935, 4);
  });

  it('of the construction case of Hillier and Lieberman (a value from memory; arithmetic checked)', () => {
    const path = onNodes([
      'A 2',
      'B 4 A',
      'C 10 B',
      'D 6 C',
      'E 4 C',
      'F 5 E',
      'G 7 D',
      'H 9 EG',
      'I 7 C',
      'J 8 FI',
      'K 4 J',
      'L 5 J',
      'M 2 H',
      'N 6 KL',
    ]);
    expect(path.finishMin).toBe(44);
    expect(path.chain.join('')).toBe('ABCEFJLN');
  });
});

describe('lags and hands', () => {
  const pair = [step('seal', 60), step('lift', 90)];

  it('keep the least time after a step, such as a cure time', () => {
    expect(pathOf(pair, [order('seal', 'lift', 45)]).finishMin).toBe(195);
  });

  it('pull a step later so that the most time after it is kept, such as the open time of a sealant', () => {
    const steps = [step('prepare', 200), ...pair];
    const path = pathOf(steps, [order('prepare', 'lift'), order('seal', 'lift', 0, 20)]);
    expect(path.steps.find((each) => each.key === 'seal')).toMatchObject({
      earliestStartMin: 120,
      latestStartMin: 140,
    });
    expect(path.finishMin).toBe(290);
  });

  it('are refused when they contradict each other, with the steps concerned', () => {
    const ring = criticalPath(
      [step('a', 10), step('b', 10), step('c', 5)],
      [order('a', 'b'), order('b', 'a'), order('c', 'a')],
    );
    expect(ring).toMatchObject({ ok: false, problem: { kind: 'order-impossible' } });
    if (!ring.ok) expect([...ring.problem.steps].sort()).toEqual(['a', 'b']);
    const tight = criticalPath(
      [step('seal', 10), step('wait', 60), step('lift', 10)],
      [order('seal', 'wait'), order('wait', 'lift'), order('seal', 'lift', 0, 30)],
    );
    expect(tight).toMatchObject({ ok: false, problem: { kind: 'order-impossible' } });
  });

  it('make a step longer with fewer hands, and refuse it with too few', () => {
    const lifting: VisitStep = { key: 'lift', durationMin: 60, minHands: 2, maxHands: 4 };
    expect([1, 2, 3, 4, 9].map((hands) => durationWithHands(lifting, hands))).toEqual([
      undefined,
      120,
      80,
      60,
      60,
    ]);
    expect(pathOf([lifting], [], 3).finishMin).toBe(80);
    expect(criticalPath([lifting], [], 1)).toEqual({
      ok: false,
      problem: { kind: 'too-few-hands', steps: ['lift'] },
    });
  });

  it('leave every step between its earliest and latest time, and every order kept, in any network', () => {
    const network = fc.array(
      fc.record({
        durationMin: fc.integer({ min: 0, max: 300 }),
        lag: fc.integer({ min: 0, max: 60 }),
        back: fc.integer({ min: 1, max: 4 }),
      }),
      { minLength: 1, maxLength: 15 },
    );
    fc.assert(
      fc.property(network, (rows) => {
        const steps = rows.map((row, at) => step(String(at), row.durationMin));
        const orders = rows.flatMap((row, at) =>
          at >= row.back ? [order(String(at - row.back), String(at), row.lag)] : [],
        );
        const path = pathOf(steps, orders);
        const at = new Map(path.steps.map((each) => [each.key, each]));
        for (const each of path.steps) {
          expect(each.slackMin).toBeGreaterThanOrEqual(-1e-9);
          expect(each.latestFinishMin).toBeLessThanOrEqual(path.finishMin + 1e-9);
        }
        for (const { before, after, minLagMin } of orders) {
          expect(at.get(after)!.earliestStartMin).toBeGreaterThanOrEqual(
            at.get(before)!.earliestFinishMin + minLagMin,
          );
          expect(at.get(after)!.latestStartMin).toBeGreaterThanOrEqual(
            at.get(before)!.latestFinishMin + minLagMin,
          );
        }
        expect(path.steps.some((each) => each.critical)).toBe(true);
      }),
    );
  });

  it('throw for a doubled or unknown key', () => {
    const bad = expect.objectContaining({ code: 'invalid-input' });
    expect(() => criticalPath([step('a', 1), step('a', 2)], [])).toThrow(bad);
    expect(() => criticalPath([step('a', 1)], [order('a', 'b')])).toThrow(bad);
  });
});
