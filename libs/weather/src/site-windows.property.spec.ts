// Windows of a site: the counts behind a date recomputed by plain loops, and growing by days against taking all at once.
import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { rngFromSeed } from '../../kernel/src/index.ts';
import { dateOfYear, layOutDays, someDays } from './day-grid.ts';
import type { HourlyRecord } from './hourly-record.ts';
import { siteClock } from './site-clock.ts';
import { DAY } from './site-day.ts';
import type { VisitWork } from './site-day-work.ts';
import { SiteWindows } from './site-windows.ts';

const FIRST_HOUR = 12_000 * 24;
const place = { name: 'made up', lat: 44.6, lon: -63.6, elevationM: 20 };

function madeUp(days: number, seed: number, holes = 0.02): HourlyRecord {
  const rng = rngFromSeed(seed);
  const hours = days * 24;
  const wet = Array.from({ length: days }, () => rng.uniform() < 0.4);
  const column = (value: (at: number) => number): Float32Array =>
    Float32Array.from({ length: hours }, (_, at) => (rng.uniform() < holes / 24 ? Number.NaN : value(at)));
  const windMps = column(() => 9 * rng.uniform() ** 2);
  return {
    place,
    source: 'made up',
    standardOffsetMin: -240,
    typicalYear: false,
    hourIndex: Int32Array.from({ length: hours }, (_, at) => FIRST_HOUR + at),
    tempC: column((at) => 8 - 12 * Math.cos((at / 8766) * 2 * Math.PI)),
    dewPointC: column((at) => 2 - 12 * Math.cos((at / 8766) * 2 * Math.PI)),
    rainMm: column((at) => (wet[Math.floor(at / 24)] && rng.uniform() < 0.25 ? 0.6 : 0)),
    windMps,
    gustMps: new Float32Array(hours).fill(Number.NaN),
    thunder: new Int8Array(hours).fill(-1),
  };
}

const limits = {
  gustMps: 10,
  meanWindMps: 8,
  loadHeightM: null,
  rainMmPerHour: 0.2,
  tempMinC: 0,
  tempMaxC: 32,
  dewPointMarginC: null,
  needsDaylight: true,
};
const step = {
  key: 'a',
  durationMin: 240,
  interruptible: true,
  limits,
  dryAfterMin: 60,
  lagMin: 0,
  maxLagMin: null,
  mayStopAfter: true,
};
const visit: VisitWork = [
  {
    steps: [step, { ...step, key: 'b', durationMin: 120, interruptible: false, mayStopAfter: false }],
    makeSafeGustMps: 12,
  },
  null,
];
const clock = siteClock(place, { from: '08:00', to: '17:30', zone: 'America/Halifax' }, 2027, -240);

describe('windows of a site', () => {
  const record = madeUp(4 * 365 + 1, 5);
  const grid = layOutDays(record);
  const whole = new SiteWindows([visit], clock);
  whole.append(grid);
  const states = whole.statesOf(0);

  it('count the known days within seven dates of a date, over all years', () => {
    for (const date of [0, 59, 100, 200, 365]) {
      let known = 0;
      let good = 0;
      states.forEach((state, day) => {
        const apart = Math.abs((grid.dateOfYear[day] as number) - date);
        if (Math.min(apart, 366 - apart) > 7 || state === DAY.UNKNOWN) return;
        known += 1;
        if (state === DAY.GOOD) good += 1;
      });
      const row = whole.rowOf(0, date);
      expect(row.knownDays).toBe(known);
      expect(row.goodShare).toBeCloseTo(good / known, 12);
    }
  });

  it('are the same for one date, for some and for all', () => {
    const all = whole.rowsOf(0);
    for (const date of [0, 58, 59, 60, 200, 365]) expect(whole.rowOf(0, date)).toEqual(all[date]);
    expect(whole.rowsOf(0, 360, 12)).toEqual([...all.slice(360), ...all.slice(0, 6)]);
  });

  it('know four years, and lean on the month by three', () => {
    const row = whole.rowOf(0, dateOfYear(6, 15));
    expect(row.years).toBe(4);
    expect(row.ownWeight).toBeCloseTo(4 / 7, 12);
    const june = [...states].filter((state, day) => {
      const date = grid.dateOfYear[day] as number;
      return date >= dateOfYear(6, 1) && date <= dateOfYear(6, 30) && state !== DAY.UNKNOWN;
    });
    const monthShare = june.filter((state) => state === DAY.GOOD).length / june.length;
    expect(row.shrunkGoodShare).toBeCloseTo((4 / 7) * (row.goodShare as number) + (3 / 7) * monthShare, 12);
  });

  it('have lost days whose mean and percentiles belong to one distribution', () => {
    for (const row of whole.rowsOf(0)) {
      const chances = whole.lostChancesOf(0, row.date) as Float64Array;
      expect(chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
      expect(row.lostMean).toBeCloseTo(
        chances.reduce((sum, chance, lost) => sum + chance * lost, 0),
        9,
      );
      expect(row.lostP50 as number).toBeLessThanOrEqual(row.lostP80 as number);
      expect(row.lostP80 as number).toBeLessThanOrEqual(row.lostP95 as number);
    }
  });

  it('have a latest start that is never before the shift, also where the clocks change within the week', () => {
    for (const { date, latestStartMin, middleLatestStartMin } of whole.rowsOf(0)) {
      if (latestStartMin === null) continue;
      expect(latestStartMin).toBeGreaterThanOrEqual(clock.shiftFromMin[date] as number);
      expect(middleLatestStartMin as number).toBeGreaterThanOrEqual(latestStartMin);
    }
  });

  it('say on what they stand: every gust is estimated here, and thunder is never known', () => {
    expect(whole.basis()).toEqual({
      days: grid.dayCount,
      hours: grid.dayCount * 12,
      typicalYear: false,
      gustEstimatedHours: record.windMps.filter(
        (wind, at) => !Number.isNaN(wind) && at % 24 >= 7 && at % 24 < 19,
      ).length,
      gustFactor: 1.4,
      thunderKnownHours: 0,
    });
  });

  it('are the same whether days come all at once or bit by bit', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 12 }), (pieces) => {
        const grown = new SiteWindows([visit], clock);
        let from = 0;
        for (const piece of [...pieces, grid.dayCount]) {
          const to = Math.min(grid.dayCount, from + piece);
          if (to > from) grown.append(someDays(grid, from, to));
          from = to;
        }
        expect(grown.rowsOf(0)).toEqual(whole.rowsOf(0));
        expect(grown.statesOf(0)).toEqual(states);
        expect(grown.basis()).toEqual(whole.basis());
      }),
      { numRuns: 12 },
    );
  });

  it('never say a start before the shift, also where dates on either side of a change of clocks are read together', () => {
    const wet = { ...limits, gustMps: null, meanWindMps: null, rainMmPerHour: null, tempMinC: null };
    const long = { ...step, durationMin: 510, dryAfterMin: 0, limits: { ...wet, needsDaylight: false } };
    const zoned = siteClock(place, { from: '08:00', to: '17:00', zone: 'America/Halifax' }, 2027, -240);
    const windows = new SiteWindows([[{ steps: [long], makeSafeGustMps: null }]], zoned);
    windows.append(layOutDays(madeUp(400, 3, 0)));
    // Eight and a half hours of nine: by 08:30 on the clocks of the site on every date.
    for (const { date, latestStartMin } of windows.rowsOf(0))
      expect([date, latestStartMin]).toEqual([date, (zoned.shiftFromMin[date] as number) + 30]);
    expect(new Set(zoned.shiftFromMin)).toEqual(new Set([480, 420]));
  });

  it('refuse days that do not follow', () => {
    const grown = new SiteWindows([visit], clock);
    grown.append(someDays(grid, 0, 10));
    expect(() => grown.append(someDays(grid, 11, 12))).toThrow('right after');
  });

  it('a wider limit never makes fewer days good', () => {
    const wider = new SiteWindows(
      [
        visit.map(
          (day) =>
            day && {
              ...day,
              steps: day.steps.map((each) => ({ ...each, limits: { ...limits, gustMps: 13 } })),
            },
        ),
      ],
      clock,
    );
    wider.append(grid);
    wider.statesOf(0).forEach((state, day) => {
      if (states[day] === DAY.GOOD) expect(state).toBe(DAY.GOOD);
    });
  });
});

describe('a typical year', () => {
  it('goes round: visits that begin in its last days end in its first', () => {
    const year = madeUp(365, 9, 0);
    const typical = {
      ...year,
      typicalYear: true,
      hourIndex: year.hourIndex.map((hour) => hour - FIRST_HOUR + 11_323 * 24),
    };
    const windows = new SiteWindows([visit], clock);
    windows.append(layOutDays(typical));
    expect(windows.statesOf(0)).toHaveLength(365);
    const row = windows.rowOf(0, 365);
    expect(row.years).toBe(1);
    expect(row.lostMean).not.toBeNull();
  });
});
