import { DryspellError } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';

/** A row of a season that a record of weather is kept for. */
export interface RecordTarget {
  readonly kind: 'station' | 'site';
  readonly key: string;
  readonly name: string;
  readonly lat: number;
  readonly lon: number;
  readonly elevationM: number | null;
  readonly zone: string;
  /** Who keeps the record, as the season says. */
  readonly source: string | null;
}

/** The weather station or site of a season. Throws `not-found`. */
export async function getRecordTarget(
  db: Database,
  input: {
    readonly organisationId: string;
    readonly season: string;
    readonly kind: 'station' | 'site';
    readonly key: string;
  },
): Promise<RecordTarget> {
  const { organisationId, season, kind, key } = input;
  const where = { key, season: { organisationId, key: season } };
  if (kind === 'station') {
    const row = await db.client.weatherStation.findFirst({ where });
    if (row) return { kind, ...factsOf(row), source: row.source };
  } else {
    const row = await db.client.site.findFirst({ where });
    if (row) return { kind, ...factsOf(row), source: null };
  }
  throw new DryspellError('not-found', { [kind]: key, season });
}

function factsOf(row: Omit<RecordTarget, 'kind' | 'source'>) {
  const { key, name, lat, lon, elevationM, zone } = row;
  return { key, name, lat, lon, elevationM, zone };
}
