import type { HourlyRecord } from '../../../weather/src/index.ts';
import type { Actor } from '../actor.ts';
import { writeAudit } from '../audit.repository.ts';
import type { Database } from '../database.ts';
import { type StoredHours, storeRecord } from './observations.repository.ts';
import type { RecordTarget } from './record-target.ts';
import { ensureSeries, recordKey, type WeatherSeries } from './series.repository.ts';

export interface RecordImport {
  readonly organisationId: string;
  readonly target: RecordTarget;
  readonly record: HourlyRecord;
  /** Throws the hours away that were there. */
  readonly replace?: boolean;
  readonly actor: Actor;
  readonly onProgress?: (hoursDone: number) => void;
}

/** Keeps a record as that of a station or site, whose series is made where there is none. Throws as `storeRecord` does. */
export async function importRecord(
  db: Database,
  { organisationId, target, record, replace = false, actor, onProgress }: RecordImport,
): Promise<{ readonly series: WeatherSeries; readonly stored: StoredHours }> {
  const { place, standardOffsetMin, typicalYear } = record;
  const facts = {
    organisationId,
    key: recordKey(target.kind, target.key),
    kind: 'record' as const,
    name: target.name,
    lat: place.lat,
    lon: place.lon,
    elevationM: place.elevationM,
    zone: target.zone,
    source: record.source || target.source || 'not stated',
    standardOffsetMin,
    typicalYear,
  };
  const series = await db.transaction((tx) => ensureSeries(tx, facts, actor), { isolation: 'readCommitted' });
  const stored = await storeRecord(db, { series, record, replace, ...(onProgress ? { onProgress } : {}) });
  const { added, changed, removed } = stored;
  if (added + changed + removed > 0) {
    const subject = { subjectKind: 'weatherSeries', subjectId: series.id, subjectKey: series.key };
    await db.transaction((tx) =>
      writeAudit(tx, {
        actor,
        organisationId,
        action: 'weatherSeries.hoursStored',
        ...subject,
        after: stored,
      }),
    );
  }
  return { series, stored };
}
