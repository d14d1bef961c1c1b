import type { BriefCore } from '../../../intake/src/index.ts';
import type { Instant } from '../../../kernel/src/index.ts';
import type { WindowRow } from '../../../weather/src/index.ts';
import type { Database } from '../database.ts';
import { readRecord } from '../weather/observations.repository.ts';
import { seriesFingerprint, seriesYears, type WeatherSeries } from '../weather/series.repository.ts';
import { contentKey, keepWindow, readWindows } from '../weather/window-cache.repository.ts';

type Content = Parameters<BriefCore['computeWindow']>[0];
type Result = ReturnType<BriefCore['computeWindow']>;

const KIND = 'odds-by-date';

/**
 * The odds of every date for some work in the hours of a record: as they were computed before for the same hours and the same work, else
 * computed now and kept. Null for a record without hours.
 */
export async function recordWindow(
  db: Database,
  core: Pick<BriefCore, 'computeWindow'>,
  input: { readonly record: WeatherSeries; readonly content: Content; readonly now: Instant },
): Promise<readonly WindowRow[] | null> {
  const { record, content, now } = input;
  const years = (await seriesYears(db, [record.id])).get(record.id) ?? [];
  const fingerprint = seriesFingerprint(record, years);
  if (fingerprint === null) return null;
  const key = contentKey([KIND, fingerprint, content]);
  const kept = (await readWindows(db, { contentKeys: [key], now })).get(key) as Result | undefined;
  if (kept) return kept.rows;
  const result = core.computeWindow(content, await readRecord(db, { series: record }));
  await keepWindow(db, { contentKey: key, seriesId: record.id, kind: KIND, result, now });
  return result.rows;
}
