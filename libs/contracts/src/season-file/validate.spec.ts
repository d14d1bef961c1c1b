import { describe, expect, it } from '@jest/globals';
import {
  canonicalSeasonFile,
  type SeasonFile,
  seasonFileJsonSchema,
  seasonFileSchema,
} from './season-file.ts';
import { columnsOf } from './table.ts';
import { type SeasonRow, seasonTable, seasonTableNames } from './tables.ts';
import { validateSeasonFile } from './validate.ts';

const head = {
  key: 'north-2026',
  name: 'North 2026',
  organisationName: 'Larch & Loon Domes (invented)',
  zone: 'America/Halifax',
  isDemo: true,
  firstDay: '2026-05-01',
  lastDay: '2026-10-31',
  currency: 'CAD',
  goodsConfidence: 0.8,
  reserveConfidence: 0.8,
  movedCents: 20000,
  movedPerDayCents: 1000,
  crewChangedCents: 5000,
  nearDays: 21,
  nearFactor: 3,
};

const customer = { key: 'loon-school', name: 'Loon Lake School', language: 'en' };

function site(over: Partial<SeasonRow<'sites'>> = {}): SeasonRow<'sites'> {
  return {
    key: 'loon-lake',
    name: 'Loon Lake',
    customer: 'loon-school',
    lat: 45.1,
    lon: -64.2,
    zone: 'America/Halifax',
    overheadLines: 'unknown',
    forkliftOnSite: 'no',
    foundationKind: 'pad',
    siteStorageDays: 7,
    ...over,
  };
}

function file(tables: Record<string, unknown> = {}): Record<string, unknown> {
  return {
    format: 'dryspell-season',
    formatVersion: 1,
    season: head,
    customers: [customer],
    sites: [site()],
    ...tables,
  };
}

function faultsOf(input: unknown) {
  const result = validateSeasonFile(input);
  return result.ok ? [] : result.faults;
}

describe('validateSeasonFile', () => {
  it('takes a sound file, leaves out empty cells and fills in absent tables', () => {
    const result = validateSeasonFile(file({ sites: [site({ address: null })] }));
    expect(result).toMatchObject({ ok: true, value: { jobs: [], people: [] } });
    expect(result.ok && Object.keys(result.value.sites[0]!)).not.toContain('address');
  });

  it('reports every fault at once, each with table, row and column', () => {
    const faults = faultsOf(
      file({
        season: { ...head, firstDay: '2026-12-01' },
        sites: [site(), site({ customer: 'nobody', lat: 200 }), { ...site({ key: 'b' }), colour: 'red' }],
        jbos: [],
        people: 'none',
      }),
    );
    expect(faults.map((fault) => [fault.table, fault.row, fault.column, fault.code])).toEqual([
      ['season', 1, 'lastDay', 'wrong-order'],
      ['jbos', 0, '', 'unknown-table'],
      ['people', 0, '', 'not-a-table'],
      ['sites', 2, 'lat', 'bad-value'],
      ['sites', 3, 'colour', 'unknown-column'],
      ['sites', 2, 'key', 'duplicate-key'],
      ['sites', 2, 'customer', 'dangling-reference'],
    ]);
    expect(faults.find((fault) => fault.column === 'lat')).toMatchObject({
      value: 200,
      message: '"lat" is 200, which is not a number from -90 to 90, in degrees north.',
      expected: 'a number from -90 to 90, in degrees north',
    });
  });

  it('tells a value of another kind from one that is out of bounds', () => {
    const codes = faultsOf(file({ sites: [site({ siteStorageDays: 'seven' as never, name: '' })] })).map(
      (f) => f.code,
    );
    expect(codes).toEqual(['bad-value', 'wrong-kind']);
  });

  it('refuses a date that is not in the calendar', () => {
    const closed = [{ site: 'loon-lake', fromDay: '2026-02-30', toDay: '2026-03-01' }];
    expect(faultsOf(file({ siteClosedDays: closed }))).toMatchObject([
      { column: 'fromDay', code: 'bad-value' },
    ]);
  });

  it('wants exactly one of consignment and container for a milestone', () => {
    expect(faultsOf(file({ milestones: [{ kind: 'sailed' }] }))).toMatchObject([
      { table: 'milestones', row: 1, code: 'not-exactly-one' },
    ]);
  });

  it('checks references over several columns', () => {
    const template = { key: 't', name: 'Build', visitKind: 'build', maxGapDays: 2 };
    const need = { template: 't', dayNumber: 2, ticket: 'rigger', count: 1 };
    const ticketKinds = [{ key: 'rigger', name: 'Rigger' }];
    expect(
      faultsOf(file({ buildTemplates: [template], ticketKinds, templateDayTickets: [need] })),
    ).toMatchObject([
      { table: 'templateDayTickets', row: 1, column: 'dayNumber', code: 'dangling-reference' },
    ]);
  });

  it('keeps places, warehouses and sites in one space of keys', () => {
    const place = { key: 'loon-lake', name: 'Yard', lat: 45, lon: -64, zone: 'America/Halifax' };
    expect(faultsOf(file({ places: [place] }))).toMatchObject([
      {
        table: 'sites',
        row: 1,
        column: 'key',
        code: 'duplicate-key',
        message: 'The key "loon-lake" is also used in places.',
      },
    ]);
  });

  it('refuses days of leave that overlap, and takes days that only touch', () => {
    const people = [{ key: 'ana', name: 'Ana', language: 'en', kind: 'casual' }];
    const away = (fromDay: string, toDay: string) => ({ person: 'ana', fromDay, toDay });
    const touching = [away('2026-06-01', '2026-06-05'), away('2026-06-06', '2026-06-09')];
    expect(faultsOf(file({ people, leave: touching }))).toEqual([]);
    expect(faultsOf(file({ people, leave: [...touching, away('2026-06-05', '2026-06-05')] }))).toMatchObject([
      { table: 'leave', row: 3, code: 'overlap' },
    ]);
  });

  it('refuses what is no object and what is another format', () => {
    expect(faultsOf(null)).toMatchObject([{ code: 'not-a-season-file' }]);
    expect(faultsOf({ ...file(), format: 'other', formatVersion: 2 }).map((fault) => fault.column)).toEqual([
      'format',
      'formatVersion',
    ]);
    expect(faultsOf(file({ sites: [7, site()] }))).toMatchObject([
      { table: 'sites', row: 1, code: 'wrong-kind' },
    ]);
  });
});

describe('the tables', () => {
  it('refer only to tables that come earlier, or to themselves', () => {
    seasonTableNames.forEach((name, at) => {
      for (const reference of seasonTable(name).references) {
        for (const target of reference.tables) {
          const position = seasonTableNames.indexOf(target as never);
          expect([name, target, position >= 0 && position <= at]).toEqual([name, target, true]);
          expect(seasonTable(target as never).columns).toHaveProperty(reference.to.at(-1)!);
        }
      }
    });
  });

  it('have sheet titles that a workbook can hold, each once', () => {
    const titles = seasonTableNames.map((name) => seasonTable(name).sheet);
    expect(titles.filter((title) => title.length > 31 || /[:\\/?*[\]]/.test(title))).toEqual([]);
    expect(new Set(titles.map((title) => title.toLowerCase())).size).toBe(titles.length);
  });

  it('describe each column, with whole cents where a name ends in Cents', () => {
    for (const name of seasonTableNames) {
      for (const column of columnsOf(seasonTable(name))) {
        expect([name, column.name, column.description.length > 5]).toEqual([name, column.name, true]);
        if (/Cents/.test(column.name)) expect([column.kind, column.unit]).toEqual(['integer', 'cents']);
      }
    }
  });
});

describe('seasonFileSchema', () => {
  it('agrees with the fault report on a sound file and on a wrong cell', () => {
    expect(seasonFileSchema.safeParse(file()).success).toBe(true);
    expect(seasonFileSchema.safeParse(file({ sites: [site({ lat: 91 })] })).success).toBe(false);
    expect(seasonFileSchema.safeParse(file({ sites: [{ ...site(), colour: 'red' }] })).success).toBe(false);
  });

  it('is published as JSON Schema with closed rows and units', () => {
    const schema = seasonFileJsonSchema() as {
      $schema: string;
      properties: Record<
        string,
        { items: { additionalProperties: boolean; properties: Record<string, { description?: string }> } }
      >;
      required: string[];
    };
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(schema.required).toEqual(['format', 'formatVersion', 'season']);
    expect(schema.properties.sites?.items.additionalProperties).toBe(false);
    expect(schema.properties.sites?.items.properties.lat).toMatchObject({ minimum: -90, maximum: 90 });
    expect(schema.properties.jobs?.items.properties.lateCentsPerDay?.description).toMatch(/Unit: cents/);
  });
});

describe('canonicalSeasonFile', () => {
  it('makes files equal that differ only in order and empty cells', () => {
    const other = site({ key: 'aspen' });
    const a = seasonFileSchema.parse(file({ sites: [site({ address: null }), other] })) as SeasonFile;
    const b = seasonFileSchema.parse(file({ sites: [other, site()] })) as SeasonFile;
    expect(canonicalSeasonFile(a)).toEqual(canonicalSeasonFile(b));
  });
});
