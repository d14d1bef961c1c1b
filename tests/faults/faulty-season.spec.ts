// A season file with many faults is refused with all of them, each at its place, by the command and by the API alike, and
// the database is as it was.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { makeSignInLink } from '../../apps/cli/src/accounts/sign-in-link.ts';
import { freePort } from '../../apps/cli/src/postgres/free-port.ts';
import { inviteUser } from '../../libs/data/src/account.repository.ts';
import { systemActor } from '../../libs/data/src/actor.ts';
import { createDatabase } from '../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../libs/data/src/season-import.repository.ts';
import { databasePrint } from '../builders/database-print.ts';
import { type ProgramProcess, spawnProgram, untilHealthy } from '../builders/program-processes.ts';
import { createTestDatabase, type TestDatabase } from '../builders/test-database.ts';
import { Manager, signIn } from '../e2e/round/round.ts';

jest.setTimeout(120_000);

const DEMO = path.resolve(import.meta.dirname, '../../prisma/demo/larch-and-loon-2027.json');
const SEASON = 'larch-loon-2027';
const actor = systemActor('test');

// biome-ignore lint/suspicious/noExplicitAny: the rows are made wrong on purpose
type Faulty = any;

interface Planted {
  readonly what: string;
  readonly place: readonly [table: string, row: number, column: string];
  readonly plant: (file: Faulty) => void;
}

/** Ten faults of ten kinds; half of them are seen in a cell, half only between rows. */
const TEN: readonly Planted[] = [
  { what: 'a word for a number', place: ['sites', 2, 'lat'], plant: (file) => (file.sites[1].lat = 'north') },
  {
    what: 'a site that is not there',
    place: ['jobs', 1, 'site'],
    plant: (file) => (file.jobs[0].site = 'nowhere'),
  },
  {
    what: 'a key twice',
    place: ['contacts', 2, 'key'],
    plant: (file) => (file.contacts[1].key = file.contacts[0].key),
  },
  {
    what: 'an unknown column',
    place: ['kits', 1, 'colour'],
    plant: (file) => (file.kits[0].colour = 'white'),
  },
  { what: 'a missing name', place: ['lifts', 3, 'name'], plant: (file) => delete file.lifts[2].name },
  {
    what: 'a person in two crews at once',
    place: ['crewMembers', 12, 'fromDay'],
    plant: (file) =>
      file.crewMembers.push({ crew: 'loon', person: 'adele', role: 'hand', fromDay: '2027-06-01' }),
  },
  { what: 'an unknown table', place: ['wishes', 0, ''], plant: (file) => (file.wishes = []) },
  {
    what: 'a time zone that does not exist',
    place: ['warehouses', 1, 'zone'],
    plant: (file) => (file.warehouses[0].zone = 'America/Nowhere'),
  },
  {
    what: 'steps in a ring',
    place: ['stepPrecedence', 1, 'after'],
    plant: (file) => {
      const { template, before, after } = file.stepPrecedence[0];
      file.stepPrecedence.push({ ...file.stepPrecedence[0], template, before: after, after: before });
    },
  },
  {
    what: 'wet days that cannot be',
    place: ['weatherMonths', 1, 'wetAfterWet'],
    plant: (file) => Object.assign(file.weatherMonths[0], { wetDayShare: 0.9, wetAfterWet: 0.1 }),
  },
];

let folder: string;
let database: TestDatabase;
let api: ProgramProcess;
let manager: Manager;
let faulty: string;

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-faulty-'));
  database = await createTestDatabase();
  const url = `http://127.0.0.1:${await freePort()}`;
  const db = createDatabase({ url: database.url, maxConnections: 2 });
  let link: { url: string };
  try {
    const organisation = await ensureOrganisation(
      db,
      { key: 'firm', name: 'Larch & Loon Domes (invented)', zone: 'America/Halifax', isDemo: true },
      actor,
    );
    await applyImport(db, organisation.id, JSON.parse(fs.readFileSync(DEMO, 'utf8')), actor);
    const email = 'mara@larch-and-loon.example';
    const common = { organisationId: organisation.id, role: 'manager', subjectKey: null, actor } as const;
    await inviteUser(db, { ...common, email, name: 'Mara Voss' });
    link = await makeSignInLink(db, { email, publicUrl: url, now: new Date(), actor });
  } finally {
    await db.close();
  }
  api = spawnProgram('dist/apps/api/src/main.js', [], {
    PORT: new URL(url).port,
    DATABASE_URL: database.url,
    DRYSPELL_PUBLIC_URL: url,
    DRYSPELL_SECRET: 'a secret of this test, long enough for all',
    DRYSPELL_LOG_LEVEL: 'error',
  });
  await untilHealthy(api, `${url}/health/ready`);
  manager = new Manager(await signIn(link.url), SEASON);
  const file = JSON.parse(fs.readFileSync(DEMO, 'utf8'));
  for (const { plant } of TEN) plant(file);
  faulty = JSON.stringify(file);
  fs.writeFileSync(path.join(folder, 'faulty.json'), faulty);
});

afterAll(async () => {
  await api?.end('SIGTERM');
  await database?.drop();
  fs.rmSync(folder, { recursive: true, force: true });
});

const inOrder = (lines: readonly string[]): string[] => [...lines].sort();

describe('a season file with ten faults', () => {
  it('is refused by the command with ten lines, and changes nothing', async () => {
    const before = await databasePrint(database.url);
    const program = spawnProgram('dist/apps/cli/src/main.js', ['import', path.join(folder, 'faulty.json')], {
      DATABASE_URL: database.url,
    });
    expect(await program.ended).toBe(1);
    const [head, ...lines] = program.output().trim().split('\n');
    expect(head).toContain('faulty.json has 10 faults; mend them and try again');
    const places = lines.map((line) => line.slice(0, line.indexOf(':')));
    const expected = TEN.map(({ place: [table, row, column] }) =>
      [table, row > 0 ? `row ${row}` : '', column].filter((part) => part !== '').join(', '),
    );
    expect(inOrder(places)).toEqual(inOrder(expected));
    // Each says in a sentence what is wrong, and what would be right.
    for (const line of lines) expect(line).toMatch(/: .{10,}\. Should be .{3,}\.$/);
    expect(await databasePrint(database.url)).toEqual(before);
  });

  it.each(['', '?dryRun=true'])(
    'is refused by the API with ten faults, and changes nothing%s',
    async (query) => {
      const before = await databasePrint(database.url);
      const answer = await manager.client.post<{
        code: string;
        nextStep: string;
        errors: { pointer: string; message: string; expected: string }[];
      }>(`/api/v1/seasons/import${query}`, { file: { bytes: faulty, mediaType: 'application/json' } });
      expect([answer.status, answer.headers.get('content-type')]).toEqual([
        422,
        expect.stringContaining('application/problem+json'),
      ]);
      const { code, nextStep, errors } = answer.body;
      expect([code, nextStep !== '']).toEqual(['season-file-invalid', true]);
      const expected = TEN.map(({ place: [table, row, column] }) =>
        ['/body', table, row > 0 ? String(row - 1) : '', column].filter((part) => part !== '').join('/'),
      );
      expect(inOrder(errors.map(({ pointer }) => pointer))).toEqual(inOrder(expected));
      expect(new Set(errors.map(({ message }) => message)).size).toBe(TEN.length);
      expect(await databasePrint(database.url)).toEqual(before);
    },
  );

  it('is taken when all ten are mended, so it was they that stood in the way', async () => {
    const answer = await manager.client.post<{ seasonState: string }>('/api/v1/seasons/import', {
      file: { bytes: fs.readFileSync(DEMO), mediaType: 'application/json' },
    });
    expect([answer.status, answer.body.seasonState]).toEqual([200, 'unchanged']);
  });
});
