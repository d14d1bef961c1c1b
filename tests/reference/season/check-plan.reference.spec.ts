import { checkPlan } from '../../../libs/season/src/check/index.ts';
import { PAPER_LINES, PAPER_TOTAL_CENTS, paperPlan, paperProblem } from './paper-season.ts';

const byName = (a: object, b: object): number => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);

describe('The independent checker on the season that was worked out by hand', () => {
  const result = checkPlan(paperProblem(), paperPlan());

  test('finds no broken rule', () => {
    expect(result.violations).toEqual([]);
    expect(result.valid).toBe(true);
  });

  test('comes to the same cost lines, to the cent', () => {
    expect([...result.costLines].sort(byName)).toEqual([...PAPER_LINES].sort(byName));
  });

  test('comes to the same total', () => {
    expect(result.totalCents).toBe(PAPER_TOTAL_CENTS);
  });
});
