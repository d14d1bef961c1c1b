// The brief of a visit, what came of it, and how good the odds were: by the API and by command.
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { briefCommand } from '../../../apps/cli/src/commands/brief.command.ts';
import { briefsSweep } from '../../../apps/worker/src/sweeps/briefs.sweep.ts';
import { evidenceSweep } from '../../../apps/worker/src/sweeps/evidence.sweep.ts';
import { importRecord } from '../../../libs/data/src/weather/import-record.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import { type HourValues, recordOf } from '../../../libs/weather/src/index.ts';
import { storeRun } from '../worker/brief-stage.ts';
import { recordedLog } from '../worker/worker-bench.ts';
import { type ApiStage, actor, openApiStage } from './api-stage.ts';

jest.setTimeout(120_000);

const { log } = recordedLog();
const VISIT = '/api/v1/seasons/small/visits/hill-build';
let stage: ApiStage;
const at = (instant: string) => stage.clock.set(instant as Instant);

/** Hours that somebody measured at the hill, from a day on, on a clock of UTC. */
async function measured(start: string, count: number, hourOf: (at: number) => HourValues): Promise<void> {
  const place = { name: 'Hill', lat: 45, lon: -64, elevationM: null };
  const target = { kind: 'site', key: 'hill', ...place, zone: 'America/Halifax', source: null } as const;
  const record = recordOf({
    ...{ place, source: 'invented', standardOffsetMin: 0, typicalYear: false, start },
    hours: Array.from({ length: count }, (_, hour) => hourOf(hour)),
  });
  await importRecord(stage.db, { organisationId: stage.firm.organisationId, target, record, actor });
}

beforeAll(async () => {
  stage = await openApiStage();
  await stage.publish();
  await stage.db.client.site.updateMany({ where: { key: 'hill' }, data: { lat: 45, lon: -64 } });
  at('2026-06-07T19:00:30.000Z');
  await stage.db.client.session.updateMany({ data: { lastSeenAt: new Date(stage.clock.now()) } });
  await storeRun(stage.db, {
    organisationId: stage.firm.organisationId,
    issuedAt: '2026-06-07T18:00:00.000Z',
    gustMps: 5,
  });
}, 90_000);
afterAll(() => stage.close());

describe('the brief of a visit', () => {
  it('is made anew for the manager and for the lead, by the key of the job or the id of the visit', async () => {
    const asManager = await stage.call('GET', `${VISIT}/brief`);
    expect(asManager.status).toBe(200);
    expect(asManager.body).toMatchObject({
      advice: 'go',
      visit: { job: 'hill-build', day: '2026-06-08', shiftFrom: '08:00', shiftTo: '18:00' },
      forecast: { state: 'fresh', issuedAt: '2026-06-07T18:00:00.000Z' },
    });
    // The template has no steps, so its limits are assumed, and that is said.
    expect(asManager.body.unknown.join(' ')).toContain('has no outside step');
    const byId = `/api/v1/seasons/small/visits/${asManager.body.visit.id}/brief`;
    const asLead = await stage.call('GET', byId, { as: stage.firm.tokens.crew });
    expect([asLead.status, asLead.body]).toEqual([200, asManager.body]);
    expect(await stage.db.client.visitBrief.count()).toBe(0);
  });

  it('is not shown to a hand of the crew, whom the costs do not concern', async () => {
    const mine = { visitId: (await stage.call('GET', `${VISIT}/brief`)).body.visit.id, person: 'ana' };
    await stage.db.client.assignment.updateMany({ where: mine, data: { role: 'hand' } });
    const answer = await stage.call('GET', `${VISIT}/brief`, { as: stage.firm.tokens.crew });
    await stage.db.client.assignment.updateMany({ where: mine, data: { role: 'lead' } });
    expect(answer.status).toBe(404);
  });

  it('is printed by a command, as text and as the same facts', async () => {
    const values = { organisation: 'firm', at: '2026-06-07T19:00:30Z' };
    const environment = { DATABASE_URL: stage.config.databaseUrl };
    const run = (name: string) =>
      briefCommand.run({ positionals: [name], values, environment, say: () => undefined });
    const { facts, lines } = await run('hill-build');
    expect(facts).toEqual((await stage.call('GET', `${VISIT}/brief`)).body);
    const text = lines.join('\n');
    expect(text).toContain('GO for Dome at hill.');
    expect(text).toMatch(/Odds of a good day: 92 %/);
    expect(text).not.toContain('http');
    await expect(run('moon-build')).rejects.toThrow('no published visit "moon-build"');
  });

  it('is a conflict where there is none to make', async () => {
    await stage.db.client.visit.updateMany({ where: { job: 'cape-build' }, data: { state: 'done' } });
    const over = await stage.call('GET', '/api/v1/seasons/small/visits/cape-build/brief');
    expect([over.status, over.body.detail]).toEqual([409, expect.stringContaining('is over')]);
  });
});

describe('the evidence of a visit', () => {
  it('stands as it is known before the day is over, and is not kept yet', async () => {
    const { body } = await stage.call('GET', `${VISIT}/weather-evidence`);
    expect(body.days).toHaveLength(1);
    expect(body.days[0]).toMatchObject({ day: '2026-06-08', kept: false, observedHours: 0, briefs: [] });
    expect(body.days[0].evidence.totals[0]).toMatchObject({ hours: 10, unknownHours: 10, okHours: 0 });
  });

  it('is kept after the day: the run that the brief went by, what came, and the limit that broke', async () => {
    const { db, clock } = stage;
    await briefsSweep({ db, clock, log, mailDomain: 'plan.example.org' }).run();
    const calm = { tempC: 12, dewPointC: 5, rainMm: 0, windMps: 4, gustMps: 5 };
    // Last June for the past years; this June with gusts of 13 from 12:00 to 15:00 UTC of the day, 09:00 to 12:00 on site.
    await measured('2025-06-01', 24 * 15, () => calm);
    await measured('2026-06-08', 48, (hour) => (hour >= 12 && hour < 15 ? { ...calm, gustMps: 13 } : calm));
    at('2026-06-08T15:00:00.000Z');
    await evidenceSweep({ db, clock, log }).run();
    expect(await db.client.visitWeatherEvidence.count()).toBe(0);
    at('2026-06-09T12:00:00.000Z');
    await evidenceSweep({ db, clock, log }).run();
    const { body } = await stage.call('GET', `${VISIT}/weather-evidence`);
    expect(body.days[0]).toMatchObject({
      kept: true,
      observedHours: 10,
      record: 'site.hill',
      briefs: [{ kind: 'day-before', advice: 'go', turnedFrom: null }],
      evidence: { issuedAt: '2026-06-07T18:00:00.000Z', members: 1 },
    });
    const [total] = body.days[0].evidence.totals;
    expect(total).toMatchObject({ hours: 10, brokenHours: 3, firstBroken: '2026-06-08T12:00:00.000Z' });
  });

  it('reads as a table in a general CSV reader (csv-parse), a row an hour', async () => {
    const answer = await stage.call('GET', `${VISIT}/weather-evidence.csv`);
    expect(answer.headers['content-type']).toContain('text/csv');
    const rows = parse(answer.text, { columns: true }) as Record<string, string>[];
    expect(rows).toHaveLength(10);
    const broken = rows.filter((row) => row['limits broken by what came'] !== '');
    expect(broken.map((row) => row['local time'])).toEqual([
      '2026-06-08 09:00',
      '2026-06-08 10:00',
      '2026-06-08 11:00',
    ]);
    expect(broken[0]).toMatchObject({
      'observed gustMps': '13',
      'forecast gustMps median': '5',
      'forecast issued': '2026-06-07T18:00:00.000Z',
    });
  });
});

describe('the verification of a firm', () => {
  it('holds the forecasts of days that have passed against what came, and fits the weights', async () => {
    const { body } = await stage.call('GET', '/api/v1/seasons/small/weather/verification');
    expect(body.cases).toBe(1);
    // A day ahead, one run said good: 11/12. Past years said good. Three hours of gusts left seven of ten, and eight are needed.
    expect(await stage.db.client.forecastCase.findFirst()).toMatchObject({
      ...{ leadDays: 1, kind: 'single', good: false },
      forecastShare: expect.closeTo(11 / 12, 12),
    });
    const [today, tomorrow] = body.weights.single;
    expect([today.basis, tomorrow.cases, tomorrow.defaultWeight]).toEqual(['default', 1, 0.8]);
    expect(body.reliability).toHaveLength(10);
    expect(body.score.brier).toBeGreaterThan(0.5);
    const picture = await stage.call('GET', '/api/v1/seasons/small/weather/verification.svg');
    expect(picture.headers['content-type']).toContain('image/svg+xml');
    expect(picture.text).toMatch(/^<svg [\s\S]*<\/svg>\s*$/);
  });
});
