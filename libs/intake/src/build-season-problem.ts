import type { SeasonFile } from '../../contracts/src/index.ts';
import { type Day, DryspellError } from '../../kernel/src/index.ts';
import type { SeasonProblem } from '../../season/src/problem.ts';
import { DEFAULT_TRAVEL_PARAMS, type TravelParams } from '../../travel/src/index.ts';
import type { MonthlyTable, WeatherAssumptions } from '../../weather/src/index.ts';
import { dayOfCell, type Horizon } from './build/day-mask.ts';
import { buildJobs } from './build/jobs.ts';
import { buildEquipment, buildLifts, buildWarehouses } from './build/machines.ts';
import { buildCasualHands, buildCrews, buildHands } from './build/people.ts';
import type { WindowTables } from './build/record-tables.ts';
import { buildTravelTable } from './build/travel-table.ts';
import { MOST_HOURS_A_DAY } from './build/visit-pattern.ts';
import { DEFAULT_WEATHER_ASSUMPTIONS, WeatherTables } from './build/weather-tables.ts';
import { checkSeasonFile } from './check-season-file.ts';
import { oddRows } from './odd-rows.ts';
import { type IntakeWarning, warning } from './warning.ts';

/** What the user may choose beside the file. */
export interface IntakeOptions {
  /** The day that the season is looked at from where the file leaves it open, `YYYY-MM-DD`: the caller's today. */
  readonly today?: string;
  /** Beats the file's `goodsConfidence`; above 0, below 1. */
  readonly goodsConfidence?: number;
  /** Beats the file's `reserveConfidence`; above 0, below 1. */
  readonly reserveConfidence?: number;
  readonly travel?: TravelParams;
  /** What stands in for unknown weather; every entry must be a number. */
  readonly weatherAssumptions?: WeatherAssumptions;
  /**
   * Whether outside days that follow each other must be good in a row, so that a bad one sends the crew back to the first; default no: a
   * bad day only puts the rest off, as the rules of the season plan have it.
   */
  readonly outsideDaysInARow?: boolean;
  /** Monthly tables counted from hourly records, by station key. */
  readonly stationTables?: Readonly<Record<string, MonthlyTable>>;
  /** Odds by date from hourly records, by job (`windowNeeds`, `computeWindow`); they beat every monthly table. */
  readonly windowTables?: WindowTables;
  /** Most hours in a site day that several kits share. */
  readonly mostHoursADay?: number;
}

/** The problem for the planner, and everything that was odd or had to be assumed. */
export interface Intake {
  readonly problem: SeasonProblem;
  readonly warnings: readonly IntakeWarning[];
}

/**
 * Turns a season file, valid in its cells and references, into the planner's problem. Pure: the same file and options give the same
 * problem. Throws `season-file-invalid` with `faults` in its data when the cross-row checks find any.
 */
export function buildSeasonProblem(file: SeasonFile, options: IntakeOptions = {}): Intake {
  const faults = checkSeasonFile(file);
  if (faults.length > 0) throw new DryspellError('season-file-invalid', { faults });
  const { season } = file;
  const horizon: Horizon = { firstDay: dayOfCell(season.firstDay), lastDay: dayOfCell(season.lastDay) };
  const asOf = asOfDay(file, options);
  const crews = buildCrews(file, horizon);
  const casual = buildCasualHands(file, horizon);
  const lifts = buildLifts(file, horizon);
  const equipment = buildEquipment(file, horizon);
  const weather = new WeatherTables(file, {
    horizon,
    reserveConfidence: share('reserveConfidence', options.reserveConfidence ?? season.reserveConfidence),
    assumptions: completeAssumptions(options.weatherAssumptions ?? DEFAULT_WEATHER_ASSUMPTIONS),
    inARow: options.outsideDaysInARow ?? false,
    stationTables: options.stationTables ?? {},
    windowTables: options.windowTables ?? {},
  });
  const built = buildJobs(file, weather, {
    horizon,
    asOfDay: asOf.day,
    goodsConfidence: share('goodsConfidence', options.goodsConfidence ?? season.goodsConfidence),
    mostHoursADay: options.mostHoursADay ?? MOST_HOURS_A_DAY,
  });
  const travel = buildTravelTable(
    file,
    { crews, casualHands: casual.hands, lifts },
    options.travel ?? DEFAULT_TRAVEL_PARAMS,
  );
  const problem: SeasonProblem = {
    formatVersion: 1,
    name: season.name,
    currency: season.currency,
    ...horizon,
    asOfDay: asOf.day,
    frozenUntil: season.frozenUntil ? dayOfCell(season.frozenUntil) : null,
    disturbance: {
      movedCents: season.movedCents,
      movedPerDayCents: season.movedPerDayCents,
      crewChangedCents: season.crewChangedCents,
      nearDays: season.nearDays,
      nearFactor: season.nearFactor,
    },
    travel: travel.table,
    jobs: built.jobs,
    crews,
    hands: buildHands(file, crews, horizon),
    casualHands: casual.hands,
    lifts,
    equipment: equipment.units,
    warehouses: buildWarehouses(file, horizon),
    weatherTables: weather.tables,
  };
  const warnings = [
    ...oddRows(file, asOf.day),
    ...asOf.warnings,
    ...built.warnings,
    ...weather.warnings,
    ...weather.recordWarnings(),
    ...casual.warnings,
    ...equipment.warnings,
    ...travel.warnings,
  ];
  return { problem, warnings };
}

function asOfDay(file: SeasonFile, options: IntakeOptions): { day: Day; warnings: IntakeWarning[] } {
  const given = file.season.asOfDay ?? options.today;
  if (given) return { day: dayOfCell(given), warnings: [] };
  const message =
    'Neither the file nor the caller says from which day the season is looked at; the first day of the season was taken.';
  return {
    day: dayOfCell(file.season.firstDay),
    warnings: [warning('as-of-day-assumed', 'season', file.season.key, message)],
  };
}

/** Confidences of exactly 0 or 1 have no day; they are drawn in to the nearest that has one. */
function share(field: string, value: number): number {
  if (!(value >= 0 && value <= 1))
    throw new DryspellError('invalid-input', { field, value, expected: 'a share from 0 to 1' });
  return Math.min(0.999, Math.max(0.001, value));
}

function completeAssumptions(assumptions: WeatherAssumptions): WeatherAssumptions {
  for (const [field, value] of Object.entries(assumptions)) {
    if (value === null)
      throw new DryspellError('invalid-input', {
        field: `weatherAssumptions.${field}`,
        value,
        expected: 'a number',
      });
  }
  return assumptions;
}
