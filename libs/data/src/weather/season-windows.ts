import type { Instant } from '../../../kernel/src/index.ts';
import type { HourlyRecord } from '../../../weather/src/index.ts';
import type { Database } from '../database.ts';
import { readRecord } from './observations.repository.ts';
import { listSeries, seriesFingerprint, seriesYears, type WeatherSeries } from './series.repository.ts';
import { siteWeather } from './site-weather.ts';
import { contentKey, keepWindow, readWindows } from './window-cache.repository.ts';

/** Something that is computed from a record, described by all that it depends on beside the hours. */
export interface StoredWindowNeed {
  /** Key of the record. */
  readonly record: string;
  readonly content: unknown;
}

/** A need with what was computed for it; the same id is the same content. */
export interface StoredWindow<Need, Result> {
  readonly id: string;
  readonly need: Need;
  readonly result: Result;
}

export interface SeasonWindowsInput<Need extends StoredWindowNeed, Result> {
  readonly organisationId: string;
  readonly seasonId: string;
  /** Short name of what is computed, for the rows. */
  readonly kind: string;
  /** What is wanted, given the record that stands for each site that has one. */
  readonly needsOf: (recordOfSite: ReadonlyMap<string, string>) => readonly Need[];
  readonly compute: (need: Need, record: HourlyRecord) => Result;
  readonly now: Instant;
  /** Told before each thing that must be computed, how many are left. */
  readonly onCompute?: (left: number) => void;
}

/**
 * What a season wants of its records: taken from what was computed before where record and content are the same, else computed and kept.
 * Each record is read once, and let go before the next. Needs whose record has no hours are left out.
 */
export async function seasonWindows<Need extends StoredWindowNeed, Result>(
  db: Database,
  input: SeasonWindowsInput<Need, Result>,
): Promise<StoredWindow<Need, Result>[]> {
  const { organisationId, seasonId, kind, now } = input;
  const series = await listSeries(db, organisationId);
  const years = await seriesYears(
    db,
    series.map(({ id }) => id),
  );
  const fingerprints = new Map<string, { of: WeatherSeries; fingerprint: string }>();
  for (const of of series) {
    const fingerprint = seriesFingerprint(of, years.get(of.id) ?? []);
    if (fingerprint !== null && of.kind === 'record') fingerprints.set(of.key, { of, fingerprint });
  }
  const held = [...fingerprints.values()].map(({ of }) => of);
  const sites = await siteWeather(db, { seasonId, series: held });
  const recordOfSite = new Map(
    sites.flatMap(({ site, record }) => (record ? [[site, record.key] as const] : [])),
  );
  const wanted = input.needsOf(recordOfSite).flatMap((need) => {
    const found = fingerprints.get(need.record);
    return found ? [{ need, of: found.of, id: contentKey([kind, found.fingerprint, need.content]) }] : [];
  });
  const known = await readWindows(db, { contentKeys: wanted.map(({ id }) => id), now });
  const missing = new Map(wanted.filter(({ id }) => !known.has(id)).map((each) => [each.id, each]));
  let left = missing.size;
  for (const of of held) {
    const ofThis = [...missing.values()].filter((each) => each.of.id === of.id);
    if (ofThis.length === 0) continue;
    const record = await readRecord(db, { series: of });
    for (const { id, need } of ofThis) {
      input.onCompute?.(left);
      const result = input.compute(need, record);
      await keepWindow(db, { contentKey: id, seriesId: of.id, kind, result, now });
      known.set(id, result);
      left -= 1;
    }
  }
  return wanted.map(({ id, need }) => ({ id, need, result: known.get(id) as Result }));
}
