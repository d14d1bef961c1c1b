import { describe, expect, it } from '@jest/globals';
import { type SeasonFileChanges, seasonFile } from '../../../../tests/builders/season-file.ts';
import type { SeasonRow } from '../../../contracts/src/index.ts';
import { ASSUMED_DAY_LIMITS, visitWork } from './visit-work.ts';

type Step = SeasonRow<'steps'>;

const step = (key: string, change: Partial<Step> = {}): Step => ({
  template: 'wren-build',
  key,
  name: key,
  dayNumber: 1,
  durationMin: 60,
  minHands: 2,
  maxHands: 3,
  outside: true,
  interruptible: true,
  holdPoint: false,
  needsDaylight: true,
  gustLimitMps: 14,
  ...change,
});

const order = (before: string, after: string, minLagMin = 0, maxLagMin?: number) => ({
  template: 'wren-build',
  before,
  after,
  minLagMin,
  ...(maxLagMin === undefined ? {} : { maxLagMin }),
});

/** The work of the wren template with other steps, with codes of what was said. */
function workOf(changes: SeasonFileChanges) {
  const file = seasonFile({ stepPrecedence: [], stepTickets: [], stepEquipment: [], ...changes });
  const { work, warnings } = visitWork(file, 'wren-build', 'wren');
  return { work, codes: warnings.map(({ code }) => code), warnings };
}

const lagsOf = ({ work }: ReturnType<typeof workOf>) =>
  work[0]?.steps.map(({ key, lagMin, maxLagMin }) => [key, lagMin, maxLagMin]);

describe('the work of a visit for weather', () => {
  it('takes site days in order, and all limits of an outside step', () => {
    const full = step('seal', {
      durationMin: 45,
      interruptible: false,
      gustLimitMps: 9,
      meanWindLimitMps: 6.5,
      loadHeightM: 2.6,
      rainLimitMmPerHour: 0,
      temperatureMinC: 5,
      temperatureMaxC: 32,
      dewPointMarginC: 3,
      dryAfterMin: 120,
      mayStopAfter: true,
    });
    const { work } = workOf({ steps: [full, step('wire', { outside: false, dayNumber: 2 })] });
    expect(work).toEqual([
      {
        makeSafeGustMps: null,
        steps: [
          {
            key: 'seal',
            durationMin: 45,
            interruptible: false,
            limits: {
              gustMps: 9,
              meanWindMps: 6.5,
              loadHeightM: 2.6,
              rainMmPerHour: 0,
              tempMinC: 5,
              tempMaxC: 32,
              dewPointMarginC: 3,
              needsDaylight: true,
            },
            dryAfterMin: 120,
            lagMin: 0,
            maxLagMin: null,
            mayStopAfter: true,
          },
        ],
      },
      null,
    ]);
  });

  it('takes the make-safe gust from the kit, and says when a night would need one that nobody knows', () => {
    const steps = [step('seal', { mayStopAfter: true })];
    const [wren, ...others] = seasonFile().kits;
    const known = workOf({
      steps,
      kits: [{ ...(wren as SeasonRow<'kits'>), makeSafeGustMps: 17 }, ...others],
    });
    expect([known.work[0]?.makeSafeGustMps, known.codes]).toEqual([17, []]);
    expect(workOf({ steps }).codes).toEqual(['make-safe-unknown']);
    expect(workOf({ steps: [step('seal')] }).codes).toEqual([]);
  });

  it('takes least and most time from the step order', () => {
    const steps = [step('seal'), step('raise'), step('lift')];
    const answer = workOf({
      steps,
      stepPrecedence: [order('seal', 'raise', 30, 240), order('raise', 'lift')],
    });
    expect(lagsOf(answer)).toEqual([
      ['seal', 0, null],
      ['raise', 30, 240],
      ['lift', 0, null],
    ]);
    expect(answer.codes).toEqual([]);
  });

  it('keeps the step order where the file lists steps in another', () => {
    const steps = [step('lift'), step('raise'), step('seal')];
    const answer = workOf({ steps, stepPrecedence: [order('seal', 'raise', 30), order('raise', 'lift', 5)] });
    expect(lagsOf(answer)).toEqual([
      ['seal', 0, null],
      ['raise', 30, null],
      ['lift', 5, null],
    ]);
  });

  it('counts an inside step between two outside steps with its time', () => {
    const steps = [step('seal'), step('glue', { outside: false, durationMin: 40 }), step('raise')];
    const answer = workOf({ steps, stepPrecedence: [order('seal', 'glue', 10), order('glue', 'raise', 5)] });
    // 10 + 40 + 5 minutes.
    expect(lagsOf(answer)).toEqual([
      ['seal', 0, null],
      ['raise', 55, null],
    ]);
  });

  it('names times that it does not look at', () => {
    const steps = [step('seal'), step('raise'), step('lift')];
    const order2 = [order('seal', 'raise'), order('raise', 'lift')];
    expect(workOf({ steps, stepPrecedence: [...order2, order('seal', 'lift', 60)] }).codes).toEqual([]);
    const long = workOf({ steps, stepPrecedence: [...order2, order('seal', 'lift', 61)] });
    expect(long.codes).toEqual(['step-lag-not-counted']);
    expect(long.warnings[0]?.message).toContain(
      'from seal to lift of wren-build (61 to any number of minutes)',
    );
    const open = workOf({ steps, stepPrecedence: [...order2, order('seal', 'lift', 0, 90)] });
    expect(open.codes).toEqual(['step-lag-not-counted']);
  });

  it('takes an outside day without steps as one piece of work under stated limits', () => {
    const { work, codes, warnings } = workOf({ steps: [] });
    expect(work[0]?.steps).toEqual([
      expect.objectContaining({ durationMin: 540, interruptible: true, limits: ASSUMED_DAY_LIMITS }),
    ]);
    expect(codes).toEqual(['day-without-steps']);
    expect(warnings[0]?.message).toContain('9 hours of work with pauses, in daylight, gusts to 9 m/s');
  });

  it('never lets a lift go without a wind limit, and names other steps without one', () => {
    const bare = { gustLimitMps: null };
    const answer = workOf({ steps: [step('lift', { ...bare, loadHeightM: 3 }), step('sweep', bare)] });
    expect(answer.work[0]?.steps.map(({ limits }) => limits.gustMps)).toEqual([9, null]);
    expect(answer.codes).toEqual(['lift-limit-assumed', 'wind-limit-unknown']);
    // A mean wind alone is a limit too.
    const mean = workOf({ steps: [step('lift', { ...bare, meanWindLimitMps: 6, loadHeightM: 3 })] });
    expect([mean.work[0]?.steps[0]?.limits.gustMps, mean.codes]).toEqual([null, []]);
  });

  it('takes all steps of a day with a lift as lifting when none has a wind limit', () => {
    const days = seasonFile().templateDays.map((day) =>
      day.template === 'wren-build' && day.dayNumber === 1 ? { ...day, liftType: 'handler' } : day,
    );
    const answer = workOf({ templateDays: days, steps: [step('lift', { gustLimitMps: null })] });
    expect([answer.work[0]?.steps[0]?.limits.gustMps, answer.codes]).toEqual([9, ['lift-limit-assumed']]);
  });

  it('refuses a template or kit that is not there, and says which are', () => {
    expect(() => visitWork(seasonFile(), 'none', 'wren')).toThrow(
      expect.objectContaining({
        code: 'invalid-input',
        data: expect.objectContaining({ field: 'template' }),
      }),
    );
    expect(() => visitWork(seasonFile(), 'wren-build', 'none')).toThrow(
      expect.objectContaining({
        data: expect.objectContaining({ expected: expect.stringContaining('wren') }),
      }),
    );
  });
});
