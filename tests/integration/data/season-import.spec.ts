import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  canonicalSeasonFile,
  seasonTableNames,
  validateSeasonFile,
} from '../../../libs/contracts/src/index.ts';
import { systemActor } from '../../../libs/data/src/actor.ts';
import { listAudit } from '../../../libs/data/src/audit.repository.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { exportSeason } from '../../../libs/data/src/season-export.repository.ts';
import { applyImport, planImport } from '../../../libs/data/src/season-import.repository.ts';
import { createTestDatabase, type TestDatabase } from '../../builders/test-database.ts';
import { fullSeasonFile } from './full-season.ts';

const actor = systemActor('test');
let testDatabase: TestDatabase;
let db: Database;
let count = 0;

beforeAll(async () => {
  testDatabase = await createTestDatabase();
  db = createDatabase({ url: testDatabase.url });
}, 60_000);

afterAll(async () => {
  await db.close();
  await testDatabase.drop();
});

async function newOrganisation(): Promise<string> {
  count += 1;
  const input = {
    key: `firm-${count}`,
    name: 'Larch & Loon Domes (invented)',
    zone: 'America/Halifax',
    isDemo: true,
  };
  return (await ensureOrganisation(db, input, actor)).id;
}

/** The full season with some tables changed by hand. */
function edited(edit: (file: Record<string, Record<string, unknown>[]>) => void): Record<string, unknown> {
  const file = fullSeasonFile();
  edit(file as Record<string, Record<string, unknown>[]>);
  return file;
}

describe('a season file in the database', () => {
  it('is a sound file in this test, with a row in every table', () => {
    const result = validateSeasonFile(fullSeasonFile());
    expect(result.ok ? [] : result.faults).toEqual([]);
  });

  it('comes back deeply equal, every column of every table', async () => {
    const organisationId = await newOrganisation();
    const report = await applyImport(db, organisationId, fullSeasonFile(), actor);
    expect(report).toMatchObject({ ok: true, seasonState: 'added' });
    expect(seasonTableNames.map((name) => report.tables[name]?.added.length)).toEqual(
      seasonTableNames.map(() => 1),
    );
    const back = await exportSeason(db, organisationId, 'one');
    const result = validateSeasonFile(fullSeasonFile());
    expect(result.ok && canonicalSeasonFile(result.value)).toEqual(back);
  });

  it('changes nothing when it is imported twice: no version, no audit row', async () => {
    const organisationId = await newOrganisation();
    await applyImport(db, organisationId, fullSeasonFile(), actor);
    const before = await listAudit(db, { organisationId, limit: 500 });
    const versions = await db.client.$queryRaw`SELECT key, version, updated_at FROM jobs ORDER BY id`;
    const report = await applyImport(db, organisationId, fullSeasonFile(), actor);
    expect(report.seasonState).toBe('unchanged');
    expect(seasonTableNames.map((name) => report.tables[name])).toEqual(
      seasonTableNames.map(() => ({ added: [], changed: [], removed: [], unchanged: 1 })),
    );
    expect(await listAudit(db, { organisationId, limit: 500 })).toEqual(before);
    expect(await db.client.$queryRaw`SELECT key, version, updated_at FROM jobs ORDER BY id`).toEqual(
      versions,
    );
  });

  it('says beforehand what an import would add, change and remove, and then does just that', async () => {
    const organisationId = await newOrganisation();
    await applyImport(db, organisationId, fullSeasonFile(), actor);
    const file = edited((tables) => {
      tables['vehicles'] = [{ ...tables['vehicles']?.[0], key: 'two' }];
      tables['sites'] = [{ ...tables['sites']?.[0], name: 'Another name', address: null }];
    });
    const planned = await planImport(db, organisationId, file);
    expect(planned.tables.vehicles).toEqual({ added: ['two'], changed: [], removed: ['one'], unchanged: 0 });
    expect(planned.tables.sites).toEqual({ added: [], changed: ['hill'], removed: [], unchanged: 0 });
    expect((await exportSeason(db, organisationId, 'one')).vehicles[0]?.key).toBe('one');
    expect(await applyImport(db, organisationId, file, actor)).toEqual(planned);
    const result = validateSeasonFile(file);
    expect(result.ok && canonicalSeasonFile(result.value)).toEqual(
      await exportSeason(db, organisationId, 'one'),
    );
    const audit = await listAudit(db, { organisationId, subjectKind: 'sites', limit: 10 });
    expect(audit.rows[0]).toMatchObject({
      action: 'sites.changed',
      subjectKey: 'hill',
      before: { name: 'Some name — “é”' },
      after: { name: 'Another name' },
    });
  });

  it('lets a person change crews and a key move from one table to another', async () => {
    const organisationId = await newOrganisation();
    await applyImport(db, organisationId, fullSeasonFile(), actor);
    const file = edited((tables) => {
      tables['crews']?.push({ ...tables['crews'][0], key: 'two' });
      tables['crewMembers'] = [{ ...tables['crewMembers']?.[0], crew: 'two' }];
      tables['places']?.push({ ...tables['places'][0], key: 'shed' });
      tables['warehouses'] = [{ ...tables['warehouses']?.[0], key: 'shed-2' }];
      for (const table of ['warehouseClosedDays', 'jobs', 'consignments']) {
        for (const row of tables[table] ?? []) row['warehouse'] = 'shed-2';
      }
    });
    await applyImport(db, organisationId, file, actor);
    const result = validateSeasonFile(file);
    expect(result.ok && canonicalSeasonFile(result.value)).toEqual(
      await exportSeason(db, organisationId, 'one'),
    );
  });

  it('is refused as a whole when anything is wrong with it', async () => {
    const organisationId = await newOrganisation();
    const file = edited((tables) => {
      tables['jobs'] = [{ ...tables['jobs']?.[0], site: 'nowhere', pinnedStart: 'soon' }];
    });
    await expect(applyImport(db, organisationId, file, actor)).rejects.toMatchObject({
      code: 'season-file-invalid',
      data: {
        faults: [
          { code: 'bad-value', column: 'pinnedStart' },
          { code: 'dangling-reference', column: 'site' },
        ],
      },
    });
    await expect(exportSeason(db, organisationId, 'one')).rejects.toMatchObject({ code: 'not-found' });
  });

  it('keeps the season of another firm apart', async () => {
    const [a, b] = [await newOrganisation(), await newOrganisation()];
    await applyImport(db, a, fullSeasonFile(), actor);
    await expect(exportSeason(db, b, 'one')).rejects.toMatchObject({ code: 'not-found' });
    await applyImport(
      db,
      b,
      edited((tables) => {
        tables['vehicles'] = [];
      }),
      actor,
    );
    expect((await exportSeason(db, a, 'one')).vehicles).toHaveLength(1);
  });
});
