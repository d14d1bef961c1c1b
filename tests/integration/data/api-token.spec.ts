import { randomBytes } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { inviteUser } from '../../../libs/data/src/account.repository.ts';
import { hashToken } from '../../../libs/data/src/action-link.repository.ts';
import { createApiToken, listApiTokens, readApiToken } from '../../../libs/data/src/api-token.repository.ts';
import { addMinutes } from '../../../libs/kernel/src/index.ts';
import { actor, now, openStage, type Stage } from './stage.ts';

describe('the token of a program', () => {
  let stage: Stage;
  beforeAll(async () => {
    stage = await openStage();
  });
  afterAll(() => stage.close());

  it('notes its use now and then, not at each request, so that requests do not wait for one another at its row', async () => {
    const { db, organisationId } = stage;
    const account = await inviteUser(db, {
      organisationId,
      email: 'program@example.org',
      name: 'Program',
      role: 'manager',
      subjectKey: null,
      actor,
    });
    const tokenHash = hashToken(randomBytes(32).toString('base64url'));
    await createApiToken(db, { account, name: 'program', tokenHash, expiresAt: null, actor });
    const usedAt = async (minutes: number) => {
      expect(await readApiToken(db, { tokenHash, now: addMinutes(now, minutes) })).not.toBeNull();
      return (await listApiTokens(db, organisationId))[0]?.lastUsedAt;
    };
    expect(await usedAt(0)).toBe(now);
    expect(await usedAt(9)).toBe(now);
    expect(await usedAt(11)).toBe(addMinutes(now, 11));
  });
});
