// A published visit with steps that have limits, for the tests of briefs and evidence. All invented.
import { inviteUser } from '../../../libs/data/src/account.repository.ts';
import { addRow } from '../../../libs/data/src/season-rows.repository.ts';
import type { VisitSketch } from '../data/small-season.ts';
import { actor, hill, openStage, publish, type Stage } from '../data/stage.ts';

/** Six hours of work in one go that a gust of more than 9 m/s or rain stops. */
const shell = {
  template: 'shell-build',
  key: 'shell',
  name: 'Set the shell',
  dayNumber: 1,
  durationMin: 360,
  minHands: 2,
  maxHands: 3,
  outside: true,
  interruptible: false,
  holdPoint: false,
  gustLimitMps: 9,
  rainLimitMmPerHour: 0.2,
  needsDaylight: true,
};

/** The small season with a template for the hill, a manager with an address, and a lead with a telephone number. */
export async function openBriefStage(visit: VisitSketch = hill, zone?: string): Promise<Stage> {
  const stage = await openStage();
  const { db, seasonId, organisationId } = stage;
  const add = (table: Parameters<typeof addRow>[1]['table'], row: Record<string, unknown>) =>
    addRow(db, { seasonId, table, row, actor });
  await add('buildTemplates', { key: 'shell-build', name: 'Shell', visitKind: 'build', maxGapDays: 2 });
  await add('templateDays', { template: 'shell-build', dayNumber: 1, outside: true, hours: 8, hands: 2 });
  await add('templateDays', { template: 'shell-build', dayNumber: 2, outside: false, hours: 8, hands: 2 });
  await add('steps', shell);
  await db.client.job.updateMany({ where: { key: 'hill-build' }, data: { template: 'shell-build' } });
  await db.client.site.updateMany({
    where: { key: 'hill' },
    data: { lat: 45, lon: -64, ...(zone === undefined ? {} : { zone }) },
  });
  await db.client.person.updateMany({ where: { key: 'ana' }, data: { phoneE164: '+15555550123' } });
  await inviteUser(db, {
    organisationId,
    email: 'manager@example.org',
    name: 'Mo',
    role: 'manager',
    subjectKey: null,
    actor,
  });
  await publish(stage, [visit]);
  // What publishing itself writes is another test's matter.
  await db.client.delivery.deleteMany();
  await db.client.outboxRow.deleteMany();
  await db.client.reminder.deleteMany({ where: { purpose: { not: { startsWith: 'brief' } } } });
  return stage;
}
