// A published visit with steps that have limits, for the tests of briefs and evidence. All invented.
import { inviteUser } from '../../../libs/data/src/account.repository.ts';
import type { Database } from '../../../libs/data/src/database.ts';
import { addRow } from '../../../libs/data/src/season-rows.repository.ts';
import { storeForecast } from '../../../libs/data/src/weather/forecasts.repository.ts';
import { ensureSeries } from '../../../libs/data/src/weather/series.repository.ts';
import { ensureWeatherYears } from '../../../libs/data/src/weather/weather-columns.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import { recordOf } from '../../../libs/weather/src/index.ts';
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

/** Keeps a forecast of one run for the hill, with one gust all along, as if it had been fetched when it was issued. */
export async function storeRun(
  db: Database,
  run: { readonly organisationId: string; readonly issuedAt: string; readonly gustMps: number },
): Promise<void> {
  const issuedAt = run.issuedAt as Instant;
  const place = { name: 'Hill', lat: 45, lon: -64, elevationM: null };
  const hour = { tempC: 12, dewPointC: 5, rainMm: 0, windMps: 4, gustMps: run.gustMps, thunder: false };
  const clock = { standardOffsetMin: 0, typicalYear: false };
  const member = recordOf({
    ...{ place, source: 'test', ...clock, start: issuedAt.slice(0, 13) },
    hours: new Array(72).fill(hour),
  });
  await ensureWeatherYears(db, [2026]);
  await db.transaction(async (tx) => {
    const facts = {
      organisationId: run.organisationId,
      key: 'forecast.test.45.0000.-64.0000',
      kind: 'forecast' as const,
      ...place,
      zone: 'America/Halifax',
      source: 'An invented service',
      ...clock,
    };
    const series = await ensureSeries(tx, facts, actor);
    const forecast = { source: 'test', issuedAt, members: [member] };
    await storeForecast(tx, { seriesId: series.id, forecast, fetchedAt: issuedAt });
  });
}
