import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import { monthOf } from '../../../kernel/src/index.ts';
import type { SiteDay, WeatherTable } from '../../../season/src/problem.ts';
import {
  lostDaysTable,
  type MonthlyTable,
  UNKNOWN_MONTH,
  type WeatherAssumptions,
} from '../../../weather/src/index.ts';
import { type IntakeWarning, warning } from '../warning.ts';
import type { Horizon } from './day-mask.ts';
import { RecordTables, type WindowTables } from './record-tables.ts';

/**
 * What is put where the weather of a month is not known. Of a plausible size, no source: each use is a warning.
 * Cold days are assumed from the month's mean temperature, see `assumedColdShare`.
 */
export const DEFAULT_WEATHER_ASSUMPTIONS: WeatherAssumptions = {
  wetDayShare: 0.4,
  windyDayShare: 0.15,
  coldDayShare: 0.25,
  correlation: 0.25,
};

/** Share of days too cold for sealing, by the month's mean temperature: none from 8 C on, a quarter down to 0 C, six tenths below. */
export function assumedColdShare(meanTempC: number): number {
  return meanTempC >= 8 ? 0 : meanTempC >= 0 ? 0.25 : 0.6;
}

/** How the weather of the sites is turned into tables. */
export interface WeatherTableOptions {
  readonly horizon: Horizon;
  readonly reserveConfidence: number;
  readonly assumptions: WeatherAssumptions;
  /** Whether outside days that follow each other must be good in a row; see docs/decisions/0012. */
  readonly inARow: boolean;
  /** Monthly tables counted from the hourly records of stations, by station key; they beat the table of the area. */
  readonly stationTables: Readonly<Record<string, MonthlyTable>>;
  /** Odds by date from hourly records, by job; they beat everything else. */
  readonly windowTables: WindowTables;
}

/** Where the weather of a site comes from, and the row to name in a warning. */
interface WeatherSource {
  readonly id: string;
  readonly months: MonthlyTable;
  readonly table: 'sites' | 'weatherAreas' | 'weatherStations';
  readonly key: string;
}

/** Makes the weather tables that jobs ask for, each once, and keeps what had to be assumed. */
export class WeatherTables {
  readonly tables: Record<string, WeatherTable> = {};
  readonly warnings: IntakeWarning[] = [];
  readonly #file: SeasonFile;
  readonly #options: WeatherTableOptions;
  readonly #records: RecordTables;

  constructor(file: SeasonFile, options: WeatherTableOptions) {
    this.#file = file;
    this.#options = options;
    this.#records = new RecordTables(options.horizon);
  }

  /** What is to be said of the hourly records that were used, and of those that could not be. */
  recordWarnings(): IntakeWarning[] {
    return this.#records.warnings();
  }

  /** The id of the table for the job at a site and its site days; null when nothing is done outside. */
  tableFor(job: string, site: SeasonRow<'sites'>, siteDays: readonly SiteDay[]): string | null {
    const lastOutside = siteDays.findLastIndex((day) => day.outside);
    if (lastOutside < 0) return null;
    const window = this.#options.windowTables[job];
    if (window) {
      const table = this.#records.tableOf(window, site);
      const id = `record.${window.id}`;
      if (table) this.tables[id] = table;
      if (table) return id;
    }
    const pattern = siteDays.slice(0, lastOutside + 1).map((day) => day.outside);
    const source = this.#sourceOf(site);
    const id = `${source.id}:${pattern.map((outside) => (outside ? 'o' : 'i')).join('')}`;
    if (!this.tables[id]) this.tables[id] = this.#make(source, pattern);
    return id;
  }

  #sourceOf(site: SeasonRow<'sites'>): WeatherSource {
    const station = site.weatherStation;
    const stationTable = station ? this.#options.stationTables[station] : undefined;
    if (station && stationTable)
      return { id: `station.${station}`, months: stationTable, table: 'weatherStations', key: station };
    if (site.weatherArea) {
      return {
        id: `area.${site.weatherArea}`,
        months: monthsOfArea(this.#file, site.weatherArea),
        table: 'weatherAreas',
        key: site.weatherArea,
      };
    }
    if (!this.warnings.some((each) => each.code === 'weather-unknown' && each.key === site.key)) {
      this.warnings.push(
        warning(
          'weather-unknown',
          'sites',
          site.key,
          `No weather is known for the site ${site.name}; planned with the assumed weather. Name its weather area.`,
        ),
      );
    }
    return { id: 'assumed', months: [], table: 'sites', key: site.key };
  }

  #make(source: WeatherSource, pattern: readonly boolean[]): WeatherTable {
    const { horizon, reserveConfidence, assumptions, inARow } = this.#options;
    const cold: number[] = [];
    const months = Array.from({ length: 12 }, (_, at) => {
      const month = source.months[at] ?? UNKNOWN_MONTH;
      if (month.badDayShare !== null || month.coldDayShare !== null || month.meanTempC === null) return month;
      cold.push(at + 1);
      return { ...month, coldDayShare: assumedColdShare(month.meanTempC) };
    });
    const answer = lostDaysTable(months, pattern, horizon, { reserveConfidence, assumptions, inARow });
    // Every unknown has an assumption, so this cannot be "cannot say".
    if (!answer.known) throw new TypeError('weather assumptions must be complete');
    const { expectedLostDays, reserveDays, assumed, worstBeyondChance } = answer.value;
    const inSeason = monthsOf(horizon);
    const seen = assumed.filter(({ month }) => inSeason.has(month));
    if (source.id !== 'assumed')
      this.#noteAssumed(
        source,
        seen,
        cold.filter((month) => inSeason.has(month)),
      );
    if (worstBeyondChance > 0.01) {
      this.warnings.push(
        warning(
          'weather-hopeless',
          source.table,
          source.key,
          `In some months the weather of ${source.key} hardly ever allows outside work; lost days are counted up to 60.`,
          {
            chanceBeyond: Math.round(worstBeyondChance * 1000) / 1000,
          },
        ),
      );
    }
    return { expectedLostDays, reserveDays };
  }

  #noteAssumed(
    source: { table: IntakeWarning['table']; key: string },
    assumed: readonly { month: number; names: readonly string[] }[],
    cold: readonly number[],
  ): void {
    const byName = new Map<string, number[]>();
    for (const { month, names } of assumed)
      for (const name of names) byName.set(name, [...(byName.get(name) ?? []), month]);
    if (cold.length > 0) byName.set('coldDayShare (from the mean temperature)', [...cold]);
    for (const [name, months] of byName) {
      const seen = this.warnings.some(
        (each) => each.code === 'weather-assumed' && each.key === source.key && each.data.name === name,
      );
      if (seen) continue;
      this.warnings.push(
        warning(
          'weather-assumed',
          source.table,
          source.key,
          `The weather of ${source.key} does not say ${name} for month ${months.join(', ')}; an assumed figure stands in for it. Fill it in.`,
          {
            name,
            months: months.join(','),
          },
        ),
      );
    }
  }
}

/** The months that the season touches; what is assumed of others matters only to stays that outlast it. */
function monthsOf(horizon: Horizon): Set<number> {
  const months = new Set<number>();
  for (let day: number = horizon.firstDay; day <= horizon.lastDay && months.size < 12; day += 1)
    months.add(monthOf(day));
  return months;
}

/** The twelve months of an area; a month without a row is unknown. */
export function monthsOfArea(file: SeasonFile, area: string): MonthlyTable {
  const rows = file.weatherMonths.filter((row) => row.area === area);
  return Array.from({ length: 12 }, (_, at) => {
    const row = rows.find((each) => each.month === at + 1);
    if (!row) return UNKNOWN_MONTH;
    return {
      ...UNKNOWN_MONTH,
      wetDayShare: row.wetDayShare,
      wetAfterWet: row.wetAfterWet,
      windyDayShare: row.windyDayShare ?? null,
      coldDayShare: row.coldDayShare ?? null,
      meanTempC: row.meanTempC ?? null,
    };
  });
}
