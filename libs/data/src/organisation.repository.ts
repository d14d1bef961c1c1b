import { DryspellError } from '../../kernel/src/index.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';

export interface Organisation {
  readonly id: string;
  readonly key: string;
  readonly name: string;
  readonly zone: string;
  readonly isDemo: boolean;
  readonly version: number;
}

export type OrganisationInput = Pick<Organisation, 'key' | 'name' | 'zone' | 'isDemo'>;

/** The organisation with this key, made if there is none. An existing one is not changed. */
export async function ensureOrganisation(
  db: Database,
  input: OrganisationInput,
  actor: Actor,
): Promise<Organisation> {
  return db.transaction(async (tx) => {
    const found = await tx.organisation.findUnique({ where: { key: input.key } });
    if (found) return infoOf(found);
    const made = await tx.organisation.create({ data: { ...input } });
    await writeAudit(tx, {
      actor,
      organisationId: made.id,
      action: 'organisation.added',
      subjectKind: 'organisation',
      subjectId: made.id,
      subjectKey: made.key,
      after: { ...input },
    });
    return infoOf(made);
  });
}

/** Throws `not-found`. */
export async function getOrganisation(db: Database, id: string): Promise<Organisation> {
  const found = await db.client.organisation.findUnique({ where: { id } });
  if (!found) throw new DryspellError('not-found', { organisation: id });
  return infoOf(found);
}

export async function listOrganisations(db: Database): Promise<Organisation[]> {
  return (await db.client.organisation.findMany({ orderBy: { key: 'asc' } })).map(infoOf);
}

function infoOf(row: Organisation): Organisation {
  const { id, key, name, zone, isDemo, version } = row;
  return { id, key, name, zone, isDemo, version };
}
