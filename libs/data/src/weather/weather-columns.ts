import type { HourlyRecord } from '../../../weather/src/index.ts';
import type { Database } from '../database.ts';

/** Hours of a leap year. */
export const YEAR_HOURS = 8784;

/** The columns of some hours as texts of PostgreSQL arrays: one parameter a column is far faster than one a value. Missing is NULL. */
export function columnTexts(record: HourlyRecord, from: number, to: number) {
  const minute: number[] = [];
  const thunder: string[] = [];
  for (let at = from; at < to; at += 1) {
    minute.push((record.hourIndex[at] as number) * 60 - record.standardOffsetMin);
    const sign = record.thunder[at] as number;
    thunder.push(sign < 0 ? 'NULL' : sign === 0 ? 'f' : 't');
  }
  const floats = (column: Float32Array): string => {
    const texts: string[] = [];
    for (let at = from; at < to; at += 1) {
      const value = column[at] as number;
      texts.push(Number.isNaN(value) ? 'NULL' : String(value));
    }
    return `{${texts.join(',')}}`;
  };
  return {
    minute: `{${minute.join(',')}}`,
    tempC: floats(record.tempC),
    dewPointC: floats(record.dewPointC),
    rainMm: floats(record.rainMm),
    windMps: floats(record.windMps),
    gustMps: floats(record.gustMps),
    thunder: `{${thunder.join(',')}}`,
  };
}

/** Year (UTC) of a minute since 1970. */
export function utcYearOfMinute(minute: number): number {
  return new Date(minute * 60_000).getUTCFullYear();
}

/** Any fixed number of our own. */
const YEARS_LOCK = 4_170_083;

/** Makes the partitions of some years (UTC); those that are there stay. */
export async function ensureWeatherYears(db: Database, years: readonly number[]): Promise<void> {
  const held = await db.client.$queryRaw<{ name: string }[]>`
    SELECT tablename AS name FROM pg_tables WHERE schemaname = 'weather_parts'`;
  const names = new Set(held.map(({ name }) => name));
  const missing = years.filter(
    (year) => !names.has(`observations_${year}`) || !names.has(`forecasts_${year}`),
  );
  if (missing.length === 0) return;
  await db.transaction(
    async (tx) => {
      // Two that need the same year at once: the second finds it made.
      await tx.$queryRaw`SELECT pg_advisory_xact_lock(${YEARS_LOCK})::text AS locked`;
      for (const year of [...missing].sort((a, b) => a - b)) {
        await tx.$executeRaw`SELECT ensure_weather_year(${year}::int)::text`;
      }
    },
    { isolation: 'readCommitted', timeoutMs: 300_000 },
  );
}
