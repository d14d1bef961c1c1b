import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  findAccountsByEmail,
  inviteUser,
  listUsers,
  revokeUser,
} from '../../../libs/data/src/account.repository.ts';
import { hashToken, linkToken } from '../../../libs/data/src/action-link.repository.ts';
import { listAudit } from '../../../libs/data/src/audit.repository.ts';
import { claimKey, keepAnswer, releaseKey } from '../../../libs/data/src/idempotency.repository.ts';
import { tryLeaderLock } from '../../../libs/data/src/leader-lock.ts';
import {
  finishPlanRun,
  getPlanRun,
  recoverPlanRuns,
  reportProgress,
  requestPlanRun,
  requestStop,
  startPlanRun,
} from '../../../libs/data/src/plan-run.repository.ts';
import {
  addRow,
  changeRow,
  findRow,
  listRows,
  removeRow,
} from '../../../libs/data/src/season-rows.repository.ts';
import { readSession } from '../../../libs/data/src/session.repository.ts';
import { putSetting } from '../../../libs/data/src/setting.repository.ts';
import {
  createSignInLink,
  readSignInLink,
  useSignInLink,
} from '../../../libs/data/src/sign-in.repository.ts';
import { listVisits } from '../../../libs/data/src/visit.repository.ts';
import { addVisitRecord, listVisitRecords } from '../../../libs/data/src/visit-record.repository.ts';
import { addMinutes, type LocalDate } from '../../../libs/kernel/src/index.ts';
import { planOf } from './small-season.ts';
import { actor, hill, linkSecret, mailDomain, now, openStage, publish, type Stage } from './stage.ts';

let stage: Stage;
beforeAll(async () => {
  stage = await openStage();
}, 60_000);
afterAll(() => stage.close());

describe('rows of season tables', () => {
  const at = (table: 'vehicles' | 'crews' | 'jobs') => ({ seasonId: stage.seasonId, table });
  const van = { key: 'van', name: 'Van', crew: 'north', payloadKg: 900, seats: 3, hasCrane: false };

  it('are added, changed with the version that was seen, and removed, each with its audit row', async () => {
    const { db } = stage;
    const added = await addRow(db, { ...at('vehicles'), row: van, actor });
    expect(added).toMatchObject({ version: 1, row: van });
    const changed = await changeRow(db, {
      ...at('vehicles'),
      id: added.id,
      version: 1,
      changes: { crew: null, seats: 2 },
      actor,
    });
    expect(changed).toMatchObject({ version: 2, row: { key: 'van', seats: 2 } });
    expect(changed.row).not.toHaveProperty('crew');
    const late = { ...at('vehicles'), id: added.id, version: 1, changes: { seats: 5 }, actor };
    await expect(changeRow(db, late)).rejects.toMatchObject({
      code: 'version-conflict',
      data: { version: 2 },
    });
    const same = await changeRow(db, { ...late, version: 2, changes: { seats: 2 } });
    expect(same.version).toBe(2);
    expect(await findRow(db, { ...at('vehicles'), key: { key: 'van' } })).toEqual(changed);
    await removeRow(db, { ...at('vehicles'), id: added.id, version: 2, actor });
    expect(await listRows(db, at('vehicles'))).toEqual([]);
    const audit = await listAudit(db, {
      organisationId: stage.organisationId,
      subjectKind: 'vehicles',
      limit: 10,
    });
    expect(audit.rows.map((row) => row.action)).toEqual([
      'vehicles.removed',
      'vehicles.changed',
      'vehicles.added',
    ]);
  });

  it('are refused with what would be right, or with what refers to them', async () => {
    const { db } = stage;
    const odd = { ...at('vehicles'), row: { ...van, seats: 0, colour: 'red' }, actor };
    await expect(addRow(db, odd)).rejects.toMatchObject({
      code: 'invalid-input',
      data: {
        faults: [
          { code: 'unknown-column' },
          { column: 'seats', expected: 'a whole number from 1 to 60, in seats' },
        ],
      },
    });
    await expect(
      addRow(db, { ...at('vehicles'), row: { ...van, crew: 'nobody' }, actor }),
    ).rejects.toMatchObject({ code: 'in-use' });
    const crew = await findRow(db, { ...at('crews'), key: { key: 'north' } });
    await addRow(db, { ...at('vehicles'), row: van, actor });
    const removal = { ...at('crews'), id: crew?.id as string, version: 1, actor };
    await expect(removeRow(db, removal)).rejects.toMatchObject({ code: 'in-use' });
    await expect(addRow(db, { ...at('vehicles'), row: van, actor })).rejects.toMatchObject({
      code: 'already-exists',
    });
  });
});

describe('accounts and sign-in', () => {
  const invite = (email: string) => ({
    email,
    name: 'Ana',
    role: 'crew' as const,
    subjectKey: 'ana',
    organisationId: stage.organisationId,
    actor,
  });

  it('goes by mail address in any case, and a link signs in once', async () => {
    const { db } = stage;
    await inviteUser(db, invite('Ana@Example.org'));
    await expect(inviteUser(db, invite('ana@example.org'))).rejects.toMatchObject({ code: 'already-exists' });
    const expiresAt = addMinutes(now, 30);
    const linkId = '0197a1f0-7c11-7d6e-9c1f-2f6f1f9c0009';
    const messageData = { links: [{ id: linkId, purpose: 'sign-in' }] };
    const tokenHash = hashToken(linkToken(linkSecret, linkId));
    const ask = { tokenHash, messageData, expiresAt, now, mailDomain };
    expect(await createSignInLink(db, { ...ask, email: 'nobody@example.org' })).toBe(false);
    expect(await createSignInLink(db, { ...ask, email: 'ANA@example.org' })).toBe(true);
    const message = await db.client.delivery.findFirstOrThrow({ where: { template: 'sign-in-link' } });
    const [link] = (message.data as { links: { id: string }[] }).links;
    const use = {
      tokenHash: hashToken(linkToken(linkSecret, link?.id as string)),
      sessionTokenHash: hashToken('session token'),
      sessionExpiresAt: addMinutes(now, 600),
      now,
    };
    expect(await readSignInLink(db, use)).toMatchObject({
      email: 'ana@example.org',
      role: 'crew',
      subjectKey: 'ana',
    });
    expect(await readSignInLink(db, { ...use, now: expiresAt })).toBeNull();
    const both = await Promise.allSettled([
      useSignInLink(db, use),
      useSignInLink(db, { ...use, sessionTokenHash: hashToken('2') }),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    const sessions = await db.client.session.findMany();
    const session = { tokenHash: sessions[0]?.tokenHash as string, now };
    expect(await readSession(db, session)).toMatchObject({ account: { name: 'Ana' } });
    const [account] = await findAccountsByEmail(db, 'ana@example.org');
    const { id, version } = account!;
    await revokeUser(db, { organisationId: stage.organisationId, id, version, actor });
    expect(await readSession(db, session)).toBeNull();
    expect(await findAccountsByEmail(db, 'ana@example.org')).toEqual([]);
    expect(await listUsers(db, { organisationId: stage.organisationId, limit: 5 })).toMatchObject([
      { active: false },
    ]);
  });
});

describe('a plan run', () => {
  it('is taken once, is told to stop, and ends with its draft in one', async () => {
    const { db, seasonId, organisationId } = stage;
    const run = await requestPlanRun(db, { seasonId, kind: 'plan', options: { iterations: 10 }, actor });
    expect(
      await db.client.outboxRow.findUniqueOrThrow({ where: { key: `plan.run-${run.id}-1` } }),
    ).toMatchObject({ topic: 'plan.run' });
    const taken = await Promise.all([
      startPlanRun(db, { id: run.id, now }),
      startPlanRun(db, { id: run.id, now }),
    ]);
    expect(taken.filter((found) => found !== null)).toHaveLength(1);
    expect(await reportProgress(db, { id: run.id, attempt: 1, progress: { done: 3 }, now })).toEqual({
      stop: false,
    });
    await requestStop(db, { organisationId, id: run.id, actor, now });
    expect(await reportProgress(db, { id: run.id, attempt: 1, now })).toEqual({ stop: true });
    const draft = { seasonId, plan: planOf([hill]), actor };
    const ended = await finishPlanRun(db, { id: run.id, attempt: 1, state: 'stopped', draft, now });
    expect(ended).toMatchObject({ state: 'stopped', progress: { done: 3 } });
    expect(ended.planId).not.toBeNull();
    await expect(
      finishPlanRun(db, { id: run.id, attempt: 1, state: 'done', draft, now }),
    ).rejects.toMatchObject({ code: 'state-conflict' });
    expect(await db.client.plan.count({ where: { seasonId } })).toBe(1);
  });

  it('whose worker died is queued again, its old worker is cut off, and it fails in the end', async () => {
    const { db, seasonId, organisationId } = stage;
    const { id } = await requestPlanRun(db, { seasonId, kind: 'plan', options: {}, actor });
    await startPlanRun(db, { id, now });
    const sweep = (minutes: number) =>
      recoverPlanRuns(db, { now: addMinutes(now, minutes), silentMin: 5, maxAttempts: 2 });
    expect(await sweep(4)).toEqual({ queued: 0, failed: 0 });
    expect(await sweep(6)).toEqual({ queued: 1, failed: 0 });
    expect(await startPlanRun(db, { id, now: addMinutes(now, 7) })).toMatchObject({ attempts: 2 });
    expect(await reportProgress(db, { id, attempt: 1, now })).toEqual({ stop: true });
    expect(await sweep(20)).toEqual({ queued: 0, failed: 1 });
    expect(await getPlanRun(db, organisationId, id)).toMatchObject({
      state: 'failed',
      fault: { code: 'internal' },
    });
  });
});

describe('records of a visit', () => {
  it('are kept once however often a phone sends them', async () => {
    const { db, organisationId, seasonId } = stage;
    await publish(stage, [hill]);
    const [visit] = await listVisits(db, { seasonId });
    const record = {
      kind: 'holdPoint' as const,
      day: '2026-06-08' as LocalDate,
      step: 'level-ring',
      value: 1.5,
      unit: 'mm',
      passed: null,
      recordedAt: now,
      clientId: '0197a1f0-7c11-7d6e-9c1f-2f6f1f9c0001',
    };
    const input = { organisationId, visitId: visit?.id as string, actor, record };
    const first = await addVisitRecord(db, input);
    expect(await addVisitRecord(db, input)).toEqual(first);
    expect(await listVisitRecords(db, input)).toEqual([
      expect.objectContaining({ value: 1.5, passed: null, recordedBy: 'test' }),
    ]);
    const foreign = { ...input, organisationId: '0197a1f0-7c11-7d6e-9c1f-2f6f1f9c0002' };
    await expect(addVisitRecord(db, foreign)).rejects.toMatchObject({ code: 'not-found' });
  });
});

describe('idempotency keys', () => {
  it('belong to one request until it is refused, answered or over', async () => {
    const { db, organisationId } = stage;
    const claim = { organisationId, userId: organisationId, key: 'key-12345678', requestHash: 'a' };
    const times = { now, expiresAt: addMinutes(now, 60) };
    const both = await Promise.all([
      claimKey(db, { ...claim, ...times }),
      claimKey(db, { ...claim, ...times }),
    ]);
    expect(both.map(({ kind }) => kind).sort()).toEqual(['ours', 'running']);
    await releaseKey(db, claim);
    expect(await claimKey(db, { ...claim, ...times })).toEqual({ kind: 'ours' });
    await keepAnswer(db, claim, { status: 201 });
    await releaseKey(db, claim);
    expect(await claimKey(db, { ...claim, ...times })).toEqual({
      kind: 'answered',
      requestHash: 'a',
      answer: { status: 201 },
    });
    expect(
      await claimKey(db, { ...claim, now: addMinutes(now, 60), expiresAt: addMinutes(now, 120) }),
    ).toEqual({ kind: 'ours' });
  });
});

describe('settings', () => {
  it('are written over the version that was seen only', async () => {
    const input = {
      organisationId: stage.organisationId,
      key: 'mail.from',
      value: { name: 'Office' },
      actor,
    };
    expect(await putSetting(stage.db, { ...input, version: 0 })).toMatchObject({ version: 1 });
    await expect(putSetting(stage.db, { ...input, value: 1, version: 0 })).rejects.toMatchObject({
      code: 'version-conflict',
    });
    expect(await putSetting(stage.db, { ...input, value: 1, version: 1 })).toMatchObject({ version: 2 });
  });
});

describe('the leader lock', () => {
  it('has one holder, and is free again when its connection ends', async () => {
    const input = { url: stage.url, name: 'sweeps' };
    const first = await tryLeaderLock(input);
    expect(first).not.toBeNull();
    expect(await tryLeaderLock(input)).toBeNull();
    const other = await tryLeaderLock({ ...input, name: 'other' });
    await other?.release();
    await stage.db.client.$executeRaw`
      SELECT pg_terminate_backend(pid)::text FROM pg_locks WHERE locktype = 'advisory' AND granted AND pid <> pg_backend_pid()`;
    await first?.lost;
    const second = await tryLeaderLock(input);
    expect(second).not.toBeNull();
    await second?.release();
  });
});
