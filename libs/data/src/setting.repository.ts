import { DryspellError } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';

export interface Setting {
  readonly key: string;
  readonly value: unknown;
  readonly version: number;
}

export interface SettingChange {
  readonly organisationId: string;
  readonly key: string;
  readonly value: unknown;
  /** Version that was seen; 0: there was none. */
  readonly version: number;
  readonly actor: Actor;
}

/** Writes a setting. Throws `version-conflict`. */
export async function putSetting(db: Database, input: SettingChange): Promise<Setting> {
  return db.transaction(async (tx) => {
    const { organisationId, key } = input;
    const where = { organisationId_key: { organisationId, key } };
    const before = await tx.setting.findUnique({ where });
    if ((before?.version ?? 0) !== input.version) {
      throw new DryspellError('version-conflict', { version: before?.version ?? 0 });
    }
    const value = input.value as Prisma.InputJsonValue;
    const row = before
      ? await tx.setting.update({ where, data: { value } })
      : await tx.setting.create({ data: { organisationId, key, value } });
    await writeAudit(tx, {
      actor: input.actor,
      organisationId,
      action: 'setting.changed',
      subjectKind: 'setting',
      subjectKey: key,
      before: before?.value,
      after: row.value,
    });
    return { key, value: row.value, version: row.version };
  });
}
