// The engine of dry windows against a plain search through every start of every step, on random days. All times are whole fives of minutes.
import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { layOutDays } from './day-grid.ts';
import { limitTable, markHours } from './hour-marks.ts';
import type { HourlyRecord } from './hourly-record.ts';
import { DAY, type DayClock, SiteDayTimer } from './site-day.ts';
import type { OutsideStep, SiteDayWork } from './site-day-work.ts';

const HOURS = 72;
const STEP_MIN = 5;

interface Hour {
  readonly gust: number | null;
  readonly rain: number | null;
}

function recordOfHours(hours: readonly Hour[]): HourlyRecord {
  const column = (value: (hour: Hour) => number | null): Float32Array =>
    Float32Array.from(hours, (hour) => value(hour) ?? Number.NaN);
  return {
    place: { name: 'made up', lat: 45, lon: 0, elevationM: null },
    source: 'made up',
    standardOffsetMin: 0,
    typicalYear: false,
    hourIndex: Int32Array.from(hours, (_, at) => at),
    tempC: column(() => 10),
    dewPointC: column(() => 2),
    rainMm: column((hour) => hour.rain),
    windMps: column((hour) => hour.gust),
    gustMps: column((hour) => hour.gust),
    thunder: new Int8Array(hours.length),
  };
}

const hourArbitrary: fc.Arbitrary<Hour> = fc.record({
  gust: fc.oneof(
    { weight: 9, arbitrary: fc.constantFrom(3, 8, 12) },
    { weight: 1, arbitrary: fc.constant(null) },
  ),
  rain: fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom(0, 0, 0, 0.4) },
    { weight: 1, arbitrary: fc.constant(null) },
  ),
});

const stepArbitrary: fc.Arbitrary<OutsideStep> = fc
  .record({
    durationMin: fc.integer({ min: 0, max: 40 }).map((fives) => fives * STEP_MIN),
    interruptible: fc.boolean(),
    gustMps: fc.constantFrom(null, 9, 14),
    rainMmPerHour: fc.constantFrom(null, 0, 0.5),
    dryAfterMin: fc.constantFrom(0, 0, 45, 130),
    lagMin: fc.constantFrom(0, 0, 25),
    maxLagMin: fc.constantFrom(null, null, null, 90),
    needsDaylight: fc.boolean(),
  })
  .map(({ gustMps, rainMmPerHour, needsDaylight, ...rest }) => ({
    key: 'step',
    ...rest,
    mayStopAfter: false,
    limits: {
      gustMps,
      meanWindMps: null,
      loadHeightM: null,
      rainMmPerHour,
      tempMinC: null,
      tempMaxC: null,
      dewPointMarginC: null,
      needsDaylight,
    },
  }));

const clock: DayClock = { shiftFromMin: 430, shiftToMin: 1090, lightFromMin: 465, lightToMin: 1040 };

/** Whether the steps from `at` on can all be done when the one before ended at `ended`; tries every start of every step. */
function canClose(
  steps: readonly OutsideStep[],
  hours: readonly Hour[],
  at: number,
  ended: number,
  from: number,
  seen: Map<string, boolean>,
): boolean {
  const step = steps[at];
  if (!step) return true;
  const name = `${at}.${ended}.${from}`;
  const before = seen.get(name);
  if (before !== undefined) return before;
  const { limits } = step;
  const works = (minute: number): boolean => {
    const { gust, rain } = hours[24 + Math.floor(minute / 60)] as Hour;
    if (limits.gustMps !== null && !(gust !== null && gust <= limits.gustMps)) return false;
    return limits.rainMmPerHour === null || (rain !== null && rain <= limits.rainMmPerHour);
  };
  const dry = (minute: number): boolean => {
    const { rain } = hours[24 + Math.floor(minute / 60)] as Hour;
    return rain !== null && rain <= (limits.rainMmPerHour ?? 0);
  };
  const to = limits.needsDaylight ? Math.min(clock.shiftToMin, clock.lightToMin) : clock.shiftToMin;
  const first = Math.max(
    from,
    at === 0 ? from : ended + step.lagMin,
    limits.needsDaylight ? clock.lightFromMin : 0,
  );
  const last = at === 0 || step.maxLagMin === null ? to : Math.min(to, ended + step.maxLagMin);
  let found = false;
  for (let start = first; start <= last && !found; start += STEP_MIN) {
    // A step begins when it is first worked at.
    if (step.durationMin > 0 && !works(start)) continue;
    let left = step.durationMin;
    let minute = start;
    while (left > 0 && minute < to) {
      if (works(minute)) left -= STEP_MIN;
      else if (!step.interruptible) break;
      minute += STEP_MIN;
    }
    if (left > 0 || minute > to) continue;
    let stays = true;
    for (let after = minute; after < minute + step.dryAfterMin; after += STEP_MIN)
      if (!dry(after)) stays = false;
    if (stays && canClose(steps, hours, at + 1, minute, 0, seen)) found = true;
  }
  seen.set(name, found);
  return found;
}

describe('a site day', () => {
  it('is good exactly when a search through every start finds a way to close it, and its latest start is the latest such way', () => {
    fc.assert(
      fc.property(
        fc.array(hourArbitrary, { minLength: HOURS, maxLength: HOURS }),
        fc.array(stepArbitrary, { minLength: 1, maxLength: 3 }),
        (hours, steps) => {
          const work: SiteDayWork = { steps, makeSafeGustMps: null };
          const grid = layOutDays(recordOfHours(hours));
          const table = limitTable([[work]]);
          const timer = new SiteDayTimer(work, grid, table, markHours(grid, table), 1.4);
          const good = canClose(steps, hours, 0, 0, clock.shiftFromMin, new Map());
          expect(timer.stateOf(1, clock, clock) === DAY.GOOD).toBe(good);
          const latest = timer.latestStart(1, clock);
          if (!good) return expect(latest).toBeNull();
          expect(canClose(steps, hours, 0, 0, latest as number, new Map())).toBe(true);
          expect(canClose(steps, hours, 0, 0, (latest as number) + STEP_MIN, new Map())).toBe(false);
        },
      ),
      { numRuns: 200 },
    );
  });
});
