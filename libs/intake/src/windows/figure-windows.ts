import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import { dayFromParts, hashOf, offsetMinAt } from '../../../kernel/src/index.ts';
import {
  type Calibration,
  calibrate,
  type GeneratorMonth,
  generateYears,
  UNKNOWN_MONTH,
  USUAL_LIMITS,
} from '../../../weather/src/index.ts';
import { type WindowTables, windowTablesOf } from '../build/record-tables.ts';
import { monthsOfArea } from '../build/weather-tables.ts';
import { type IntakeWarning, warning } from '../warning.ts';
import { computeWindow } from './compute-window.ts';
import { type WindowNeed, windowNeeds } from './window-need.ts';

/** What is wanted of the made-up hours of one weather area. */
export interface FigureNeeds {
  readonly area: string;
  readonly needs: readonly WindowNeed[];
}

/** Enough that another seed hardly moves a mean; a few tenths of a second for an area. */
const MADE_UP_YEARS = 20;

/**
 * The areas whose monthly figures stand in for sites without an hourly record, with what their jobs want. Empty unless the season asks for hours from
 * months (`hoursFromMonths`).
 */
export function figureNeeds(file: SeasonFile, recordOfSite: ReadonlyMap<string, string>): FigureNeeds[] {
  if (file.season.hoursFromMonths !== true) return [];
  const areaOfSite = new Map<string, string>();
  for (const { key, weatherArea } of file.sites)
    if (weatherArea && !recordOfSite.has(key)) areaOfSite.set(key, `figures.${weatherArea}`);
  const needs = windowNeeds(file, { recordOfSite: areaOfSite });
  return file.weatherAreas
    .map(({ key }) => ({ area: key, needs: needs.filter(({ record }) => record === `figures.${key}`) }))
    .filter((each) => each.needs.length > 0);
}

/**
 * Odds by date from made-up years that have the monthly figures of an area, held against the limits of each step as a record would be. The same
 * figures give the same years on every machine. Empty where no month tells enough; the monthly shares then stand in, as for months that are unknown.
 */
export function figureTables(
  file: SeasonFile,
  { area, needs }: FigureNeeds,
  years = MADE_UP_YEARS,
): WindowTables {
  const [site] = file.sites.filter(({ weatherArea }) => weatherArea === area);
  const months = figuresOf(file, area);
  const answer = calibrate(months, { limits: USUAL_LIMITS, wetShareOf: 'working-hours' });
  if (!site || !answer.known) return {};
  const record = generateYears(answer.value.parameters, {
    seed: Number.parseInt(hashOf(area).slice(0, 8), 16),
    firstYear: 2001,
    years,
    place: { name: area, lat: site.lat, lon: site.lon, elevationM: null },
    standardOffsetMin: standardOffset(file, site.zone),
  });
  const said = remarks(area, years, answer.value);
  return windowTablesOf(
    needs.map((need) => ({
      id: hashOf([months, years, need.content]),
      need: { ...need, warnings: [...need.warnings, ...said] },
      result: computeWindow(need.content, record),
    })),
  );
}

function figuresOf(file: SeasonFile, area: string): GeneratorMonth[] {
  const rows = file.weatherMonths.filter((row) => row.area === area);
  return monthsOfArea(file, area).map((month, at) => {
    const row: Partial<SeasonRow<'weatherMonths'>> = rows.find((each) => each.month === at + 1) ?? {};
    return {
      ...UNKNOWN_MONTH,
      ...month,
      meanWindMps: row.meanWindMps ?? null,
      rainMmPerMonth: row.rainMmPerMonth ?? null,
    };
  });
}

/** Minutes ahead of UTC without summer time, in the year of the season. */
function standardOffset(file: SeasonFile, zone: string): number {
  const year = Number(file.season.firstDay.slice(0, 4));
  return Math.min(...[1, 7].map((month) => offsetMinAt(zone, dayFromParts(year, month, 1) * 86_400_000)));
}

function remarks(area: string, years: number, { assumed, notMet }: Calibration): IntakeWarning[] {
  const names = [...new Set(assumed.map(({ name }) => name))].sort();
  const missed = [...new Set(notMet.map(({ name, month }) => `${name} of month ${month}`))];
  const message =
    `The hours of ${area} are ${years} made-up years with its monthly figures` +
    (names.length > 0 ? `; what these do not say is assumed (${names.join(', ')})` : '') +
    (missed.length > 0 ? `; not all could be met together (${missed.join(', ')})` : '') +
    '. Rain and wind are drawn apart from each other. An hourly record of a station is better: read one in.';
  return [warning('weather-from-figures', 'weatherAreas', area, message, { years })];
}
