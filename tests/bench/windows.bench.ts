/**
 * Dry windows of 200 sites, 3 kits and all dates of the year from 20 years of hours each, on one core, against a bare loop that reads the same arrays once
 * and compares them with the same limits. Ten records, made by the generator from the demo season's monthly figures, take turns, so that no site
 * finds its hours in the processor's cache. Also: what one new day of observations costs, as a share of a site's whole cost.
 */
import type { SeasonFile } from '../../libs/contracts/src/index.ts';
import { visitWork } from '../../libs/intake/src/index.ts';
import {
  calibrate,
  type DayGrid,
  generateYears,
  type HourlyRecord,
  layOutDays,
  SiteWindows,
  siteClock,
  someDays,
  UNKNOWN_MONTH,
  USUAL_LIMITS,
  type VisitWork,
} from '../../libs/weather/src/index.ts';
import { type BenchResult, machineWords, median, rounded } from './bench-result.ts';
import { demoSeason } from './bench-season.ts';

const SITES = 200;
const RECORDS = 10;
const YEARS = 20;
const KITS = ['wren', 'heron', 'osprey'] as const;
const OFFSET_MIN = -240;
const NEW_DAYS = 30;

export async function run(): Promise<BenchResult> {
  const season = demoSeason();
  const visits = KITS.map((kit) => visitWork(season, `${kit}-build`, kit).work);
  const records = Array.from({ length: RECORDS }, (_, at) => madeUpRecord(season, at));
  const limits = limitsOf(visits);
  const clockOf = (site: number) =>
    siteClock(
      { lat: 43 + (site % 60) / 10, lon: -64 },
      { from: '08:00', to: '19:00', zone: 'America/Halifax' },
      2027,
      OFFSET_MIN,
    );
  for (let warm = 0; warm < 6; warm += 1) {
    windowsOf(records[warm] as HourlyRecord, visits, clockOf(warm));
    bareLoop(records[warm] as HourlyRecord, limits);
  }
  const ours: number[] = [];
  const theirs: number[] = [];
  let dates = 0;
  let peakBytes = 0;
  const startedMs = performance.now();
  for (let site = 0; site < SITES; site += 1) {
    const record = records[site % RECORDS] as HourlyRecord;
    ours.push(
      timed(() => {
        dates += windowsOf(record, visits, clockOf(site));
      }),
    );
    peakBytes = Math.max(peakBytes, process.memoryUsage.rss());
  }
  const seconds = (performance.now() - startedMs) / 1000;
  let broken = 0;
  for (let site = 0; site < SITES; site += 1)
    theirs.push(
      timed(() => {
        broken += bareLoop(records[site % RECORDS] as HourlyRecord, limits);
      }),
    );
  if (dates !== SITES * KITS.length * 366 || broken === 0) throw new Error('a side did not do its work');
  const newDay = newDayShare(records[0] as HourlyRecord, visits, clockOf(0));
  return {
    name: 'windows',
    yardstick: 'a bare loop that reads the same hours once and compares them with the same limits',
    ratio: rounded(median(ours) / median(theirs)),
    figures: {
      'sites, kits, dates, years of hours': `${SITES}, ${KITS.length}, 366, ${YEARS}`,
      'different limits held against each hour': limits.length,
      'seconds for all sites on one core': rounded(seconds),
      'ms a site': rounded(median(ours)),
      'bare loop: ms a site': rounded(median(theirs)),
      'hours of one site in memory, MB': rounded((25 * (records[0] as HourlyRecord).hourIndex.length) / 1e6),
      'most memory of the process (ten records, compiler, all), MB': Math.round(peakBytes / 1e6),
      'one new day, share of the whole cost of a site': rounded(newDay),
    },
    machine: machineWords(),
  };
}

function windowsOf(
  record: HourlyRecord,
  visits: readonly VisitWork[],
  clock: ReturnType<typeof siteClock>,
): number {
  const windows = new SiteWindows(visits, clock);
  windows.append(layOutDays(record));
  return visits.reduce((sum, _, visit) => sum + windows.rowsOf(visit).length, 0);
}

/** Takes the last days one by one and reads the odds of the date that each changes. */
function newDayShare(
  record: HourlyRecord,
  visits: readonly VisitWork[],
  clock: ReturnType<typeof siteClock>,
): number {
  const grid = layOutDays(record);
  const windows = new SiteWindows(visits, clock);
  const days = Array.from({ length: NEW_DAYS }, (_, at) => {
    const day = grid.dayCount - NEW_DAYS + at;
    return someDays(grid, day, day + 1);
  });
  const whole = timed(() => {
    windows.append(someDays(grid, 0, grid.dayCount - NEW_DAYS));
    for (const [visit] of visits.entries()) windows.rowsOf(visit);
  });
  const each = days.map((day: DayGrid) =>
    timed(() => {
      windows.append(day);
      // A day changes the odds of its own date and of seven on either side.
      const date = day.dateOfYear[0] as number;
      for (const [visit] of visits.entries()) windows.rowsOf(visit, (date + 359) % 366, 15);
    }),
  );
  return median(each) / whole;
}

type Compared = { readonly field: 'gust' | 'wind' | 'rain' | 'cold' | 'hot' | 'dew'; readonly limit: number };

/** Each different limit of the visits once, as the windows hold them against an hour. */
function limitsOf(visits: readonly VisitWork[]): Compared[] {
  const all = new Map<string, Compared>();
  const add = (field: Compared['field'], limit: number | null): void => {
    if (limit !== null) all.set(`${field} ${limit}`, { field, limit });
  };
  for (const step of visits.flat().flatMap((day) => day?.steps ?? [])) {
    const height = step.limits.loadHeightM ?? 10;
    add('gust', step.limits.gustMps === null ? null : step.limits.gustMps / (height / 10) ** 0.14);
    add('wind', step.limits.meanWindMps === null ? null : step.limits.meanWindMps / (height / 10) ** 0.14);
    add('rain', step.limits.rainMmPerHour);
    add('cold', step.limits.tempMinC);
    add('hot', step.limits.tempMaxC);
    add('dew', step.limits.dewPointMarginC);
  }
  return [...all.values()];
}

/** Reads every hour of a record once and compares it with every limit. */
function bareLoop(record: HourlyRecord, compared: readonly Compared[]): number {
  const of = (field: Compared['field']): Float64Array =>
    Float64Array.from(compared.filter((each) => each.field === field).map(({ limit }) => limit));
  const [gusts, winds, rains, colds, hots, margins] = [
    of('gust'),
    of('wind'),
    of('rain'),
    of('cold'),
    of('hot'),
    of('dew'),
  ];
  const { gustMps, windMps, rainMm, tempC, dewPointC } = record;
  let broken = 0;
  for (let hour = 0; hour < gustMps.length; hour += 1) {
    const temp = tempC[hour] as number;
    const margin = temp - (dewPointC[hour] as number);
    for (let at = 0; at < gusts.length; at += 1)
      if ((gustMps[hour] as number) > (gusts[at] as number)) broken += 1;
    for (let at = 0; at < winds.length; at += 1)
      if ((windMps[hour] as number) > (winds[at] as number)) broken += 1;
    for (let at = 0; at < rains.length; at += 1)
      if ((rainMm[hour] as number) > (rains[at] as number)) broken += 1;
    for (let at = 0; at < colds.length; at += 1) if (temp < (colds[at] as number)) broken += 1;
    for (let at = 0; at < hots.length; at += 1) if (temp > (hots[at] as number)) broken += 1;
    for (let at = 0; at < margins.length; at += 1) if (margin < (margins[at] as number)) broken += 1;
  }
  return broken;
}

function madeUpRecord(season: SeasonFile, seed: number): HourlyRecord {
  const area = season.weatherAreas[seed % season.weatherAreas.length]?.key;
  const months = Array.from({ length: 12 }, (_, at) => {
    const row = season.weatherMonths.find((month) => month.area === area && month.month === at + 1);
    return { ...UNKNOWN_MONTH, wetDayShare: 0.4, wetAfterWet: 0.55, meanTempC: 8, meanWindMps: 5, ...row };
  });
  const answer = calibrate(months, { limits: USUAL_LIMITS, wetShareOf: 'working-hours' });
  if (!answer.known) throw new Error('the demo season has no monthly figures');
  return generateYears(answer.value.parameters, {
    seed: seed + 1,
    firstYear: 2005,
    years: YEARS,
    place: { name: 'made up', lat: 45, lon: -64, elevationM: null },
    standardOffsetMin: OFFSET_MIN,
  });
}

function timed(work: () => void): number {
  const from = performance.now();
  work();
  return performance.now() - from;
}
