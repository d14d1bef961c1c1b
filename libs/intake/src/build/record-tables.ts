import type { SeasonRow } from '../../../contracts/src/index.ts';
import { toLocalDate } from '../../../kernel/src/index.ts';
import type { WeatherTable } from '../../../season/src/problem.ts';
import { dateOfYear } from '../../../weather/src/index.ts';
import { type IntakeWarning, warning } from '../warning.ts';
import type { WindowResult } from '../windows/compute-window.ts';
import type { WindowNeed } from '../windows/window-need.ts';
import { basisWords, RAIN_TOTALS_WORDS } from '../windows/window-words.ts';
import type { Horizon } from './day-mask.ts';

/** The odds by date that stand for the weather of a job. */
export interface WindowTable {
  /** The same for the same odds: jobs that share them share a table of the planner. */
  readonly id: string;
  /** Key of the record: `station.<key>`, `site.<key>`, or `area.<key>`. */
  readonly record: string;
  readonly result: WindowResult;
  /** What had to be assumed of the work. */
  readonly warnings: readonly IntakeWarning[];
}

/** By job key. */
export type WindowTables = Readonly<Record<string, WindowTable>>;

/** The odds by job, of what was computed for needs. */
export function windowTablesOf(
  windows: readonly { readonly id: string; readonly need: WindowNeed; readonly result: WindowResult }[],
): WindowTables {
  const tables: Record<string, WindowTable> = {};
  for (const { id, need, result } of windows) {
    // A part of the content key is enough to tell the tables of one season apart, and can be read in a problem.
    const table = { id: id.slice(0, 16), record: need.record, result, warnings: need.warnings };
    for (const job of need.jobs) tables[job] = table;
  }
  return tables;
}

/** Makes the planner's tables of odds by date, and keeps what is to be said of the records behind them. */
export class RecordTables {
  readonly #horizon: Horizon;
  readonly #used = new Map<string, { window: WindowTable; sites: Set<string> }>();
  readonly #said = new Map<string, IntakeWarning>();

  constructor(horizon: Horizon) {
    this.#horizon = horizon;
  }

  /** A table over the days of the season; null, with a warning, when the record says nothing about some of them or its rain cannot be read. */
  tableOf(window: WindowTable, site: SeasonRow<'sites'>): WeatherTable | null {
    const { result, record, warnings } = window;
    if (result.rainAtFixedHours) {
      const message = `${capital(nameOf(record))} is not planned with; the monthly figures stand in for ${site.name}. ${RAIN_TOTALS_WORDS}`;
      this.#say(warning('weather-record-rain', ...rowOf(record), message));
      return null;
    }
    const expectedLostDays: number[] = [];
    const reserveDays: number[] = [];
    let unknownDays = 0;
    let hopeless = 0;
    for (let day: number = this.#horizon.firstDay; day <= this.#horizon.lastDay; day += 1) {
      const [, month, dayOfMonth] = toLocalDate(day).split('-').map(Number) as [number, number, number];
      const date = dateOfYear(month, dayOfMonth);
      const mean = result.rows[date]?.lostMean ?? null;
      const reserve = result.reserveDays[date] ?? null;
      if (mean === null || reserve === null) unknownDays += 1;
      expectedLostDays.push(Math.round((mean ?? 0) * 10_000) / 10_000);
      reserveDays.push(reserve ?? 0);
      hopeless = Math.max(hopeless, result.rows[date]?.hopelessShare ?? 0);
    }
    if (unknownDays > 0) {
      const days = expectedLostDays.length;
      const message = `${capital(nameOf(record))} does not say how the weather is on ${unknownDays} of the ${days} days of the season, so the monthly figures stand in for ${site.name}. Read in hours with rain and wind that cover them.`;
      this.#say(warning('weather-record-short', ...rowOf(record), message, { unknownDays, days }));
      return null;
    }
    if (hopeless > 0.01) {
      const message = `On some days of the season ${nameOf(record)} hardly ever allows the outside work at ${site.name}; lost days are counted up to 60.`;
      this.#say(
        warning('weather-hopeless', 'sites', site.key, message, {
          chanceBeyond: Math.round(hopeless * 1000) / 1000,
        }),
      );
    }
    for (const each of warnings) this.#say(each);
    const used = this.#used.get(record) ?? { window, sites: new Set() };
    used.sites.add(site.key);
    this.#used.set(record, used);
    return { expectedLostDays, reserveDays };
  }

  warnings(): IntakeWarning[] {
    const used = [...this.#used].map(([record, { window, sites }]) => originOf(record, window.result, sites));
    return [...this.#said.values(), ...used];
  }

  #say(said: IntakeWarning): void {
    this.#said.set(`${said.code} ${said.key} ${said.message}`, said);
  }
}

/** Where the weather of some sites comes from, and how far it can be trusted. */
function originOf(record: string, result: WindowResult, sites: ReadonlySet<string>): IntakeWarning {
  const { typicalYear, hours, gustEstimatedHours, gustFactor } = result.basis;
  const message = `The weather of ${[...sites].sort().join(', ')} is counted from ${nameOf(record)}: ${basisWords(result)}. Judge whether it stands for these sites.`;
  const data = {
    years: result.years,
    typicalYear: typicalYear ? 1 : 0,
    gustFactor,
    gustEstimatedPct: Math.round((100 * gustEstimatedHours) / hours),
  };
  return warning('weather-from-record', ...rowOf(record), message, data);
}

const TABLES = {
  figures: 'weatherAreas',
  site: 'sites',
  station: 'weatherStations',
  area: 'weatherAreas',
} as const;

/** A record by its key, or the hours that were made up from the figures of an area. */
function nameOf(record: string): string {
  return record.startsWith('figures.')
    ? `the made-up record of ${record.slice('figures.'.length)}`
    : `the hourly record ${record}`;
}

const capital = (words: string): string => `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;

/** The season's row that a record is kept for. */
function rowOf(record: string): [IntakeWarning['table'], string] {
  const [kind, ...key] = record.split('.');
  return [TABLES[kind as keyof typeof TABLES] ?? 'weatherStations', key.join('.')];
}
