import fs from 'node:fs';
import path from 'node:path';
import { inviteUser, listUsers } from '../../../../libs/data/src/account.repository.ts';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  ensureOrganisation,
  listOrganisations,
  type Organisation,
} from '../../../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../../../libs/data/src/season-import.repository.ts';
import { PlainError } from '../program/plain-error.ts';
import { programRoot } from '../program/program-root.ts';

const actor = systemActor('start');

/** Who signs in with the link that the start prints. The address belongs to nobody (RFC 2606). */
const MANAGER = { name: 'Operations manager', email: 'manager@larch-and-loon.example' };

interface DemoHead {
  readonly name: string;
  readonly organisationName: string;
  readonly zone: string;
}

function demoFiles(): unknown[] {
  const folder = path.join(programRoot(), 'prisma/demo');
  return fs
    .readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => JSON.parse(fs.readFileSync(path.join(folder, name), 'utf8')) as unknown);
}

/** Reads the invented demo seasons into an empty database. Resolves to the names of the seasons. */
export async function seedDemo(db: Database): Promise<string[]> {
  const files = demoFiles();
  const heads = files.map((file) => (file as { season: DemoHead }).season);
  const [first] = heads;
  if (first === undefined)
    throw new PlainError('the program has no demo season (prisma/demo). Start with --no-demo.');
  const organisation = await ensureOrganisation(
    db,
    { key: 'demo', name: first.organisationName, zone: first.zone, isDemo: true },
    actor,
  );
  for (const file of files) await applyImport(db, organisation.id, file, actor);
  return heads.map(({ name }) => name);
}

/** The organisation that the database holds; made empty when there is none. */
export async function onlyOrganisation(db: Database): Promise<Organisation> {
  const [present] = await listOrganisations(db);
  if (present !== undefined) return present;
  return ensureOrganisation(db, { key: 'firm', name: 'Our firm', zone: 'UTC', isDemo: false }, actor);
}

/** Mail address of a manager who can sign in; one is made when the organisation has none. */
export async function managerOf(db: Database, organisation: Organisation): Promise<string> {
  const managers = await listUsers(db, { organisationId: organisation.id, role: 'manager', limit: 100 });
  const active = managers.find((account) => account.active);
  if (active !== undefined) return active.email;
  const email = organisation.isDemo ? MANAGER.email : 'manager@dryspell.example';
  const account = await inviteUser(db, {
    organisationId: organisation.id,
    ...MANAGER,
    email,
    role: 'manager',
    subjectKey: null,
    actor,
  });
  return account.email;
}
