// A season whose site has an hourly record is planned with the odds of that record; what was computed is kept by content.
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { planRunHandler } from '../../../apps/worker/src/jobs/plan-run.handler.ts';
import { planBesideYardstick } from '../../../apps/worker/src/threads/planner-pool.ts';
import { systemActor } from '../../../libs/data/src/actor.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { getPlan } from '../../../libs/data/src/plan.repository.ts';
import { getPlanRun, requestPlanRun } from '../../../libs/data/src/plan-run.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { importRecord } from '../../../libs/data/src/weather/import-record.ts';
import { seasonWindows } from '../../../libs/data/src/weather/season-windows.ts';
import {
  buildSeasonProblem,
  computeWindow,
  type IntakeWarning,
  type WindowNeed,
  type WindowResult,
  windowNeeds,
  windowTablesOf,
} from '../../../libs/intake/src/index.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import type { JobRun } from '../../../libs/queue/src/queue.port.ts';
import { checkPlan } from '../../../libs/season/src/index.ts';
import { type HourlyRecord, hourIndexOf, hourOfDay, recordOf } from '../../../libs/weather/src/index.ts';
import { seasonFile } from '../../builders/season-file.ts';
import { createWorkerDatabase, recordedLog, type WorkerDatabase } from './worker-bench.ts';

jest.setTimeout(180_000);
const actor = systemActor('test');
const now = '2027-04-26T12:00:00.000Z' as Instant;
const { log } = recordedLog();
const station = {
  key: 'gull',
  name: 'Gull Point (invented)',
  lat: 45.9,
  lon: -64.3,
  zone: 'America/Halifax',
};
const file = seasonFile({
  weatherStations: [station],
  steps: seasonFile().steps.map((step) => ({ ...step, rainLimitMmPerHour: 0.1 })),
  sites: seasonFile().sites.map((site) =>
    site.key === 'gull-point' ? { ...site, weatherStation: 'gull' } : site,
  ),
});

let database: WorkerDatabase;
let organisationId: string;
let seasonId: string;

/** Two years in which it rains in the working hours of each second day. */
function wetRecord(): HourlyRecord {
  const first = hourIndexOf(2023, 1, 1, 0);
  const hours = Array.from({ length: 731 * 24 }, (_, at) => {
    const day = Math.floor(at / 24);
    const hour = hourOfDay(first + at);
    return { tempC: 15, dewPointC: 5, windMps: 2, rainMm: day % 2 === 0 && hour >= 7 && hour < 20 ? 2 : 0 };
  });
  const place = { name: 'Gull Point', lat: 45.9, lon: -64.3, elevationM: 4 };
  return recordOf({
    place,
    source: 'invented',
    standardOffsetMin: -240,
    typicalYear: false,
    start: '2023-01-01',
    hours,
  });
}

beforeAll(async () => {
  database = await createWorkerDatabase();
  const firm = { key: 'firm', name: 'Larch & Loon Domes (invented)', zone: 'America/Halifax', isDemo: true };
  organisationId = (await ensureOrganisation(database.db, firm, actor)).id;
  const report = await applyImport(database.db, organisationId, file, actor);
  expect(report.faults).toEqual([]);
  seasonId = report.seasonId as string;
});
afterAll(() => database.destroy());

let computed = 0;
const windows = (onNeed: (need: WindowNeed) => WindowNeed = (need) => need) =>
  seasonWindows<WindowNeed, WindowResult>(database.db, {
    organisationId,
    seasonId,
    kind: 'odds-by-date',
    needsOf: (recordOfSite) => windowNeeds(file, { recordOfSite }).map(onNeed),
    compute: ({ content }, record) => {
      computed += 1;
      return computeWindow(content, record);
    },
    now,
  });
const store = (record: HourlyRecord) =>
  importRecord(database.db, {
    organisationId,
    target: { kind: 'station', elevationM: null, source: null, ...station },
    record,
    actor,
  });

describe('odds from the records of a season', () => {
  it('are none while there is no record', async () => {
    expect(await windows()).toEqual([]);
  });

  it('are computed once, and again only for other hours or other limits', async () => {
    await store(wetRecord());
    const first = await windows();
    expect(first.map(({ need }) => [need.site, need.record])).toEqual([['gull-point', 'station.gull']]);
    expect(computed).toBe(1);
    expect(await windows()).toEqual(first);
    expect(computed).toBe(1);
    await store(wetRecord());
    await windows();
    expect(computed).toBe(1);
    const stricter = (need: WindowNeed) => ({ ...need, content: { ...need.content, gustFactor: 1.6 } });
    const [other] = await windows(stricter);
    expect([computed, other?.id === first[0]?.id]).toEqual([2, false]);
    const place = wetRecord().place;
    const more = {
      place,
      source: 'invented',
      standardOffsetMin: -240,
      typicalYear: false,
      start: '2025-01-01',
      hours: [{ rainMm: 1 }],
    };
    await store(recordOf(more));
    const [longer] = await windows();
    expect([computed, longer?.id === first[0]?.id]).toEqual([3, false]);
  });

  it('are what the planner plans with, and the run says where the weather came from', async () => {
    const run = await requestPlanRun(database.db, {
      seasonId,
      kind: 'plan',
      options: { iterations: 200, seed: 3 },
      actor,
    });
    const handle = planRunHandler({
      db: database.db,
      plan: planBesideYardstick,
      clock: { now: () => now },
      log,
    });
    await handle({ planRunId: run.id }, { signal: new AbortController().signal } as JobRun);
    const done = await getPlanRun(database.db, organisationId, run.id);
    expect([done.state, done.fault]).toEqual(['done', null]);
    const { warnings } = done.result as { warnings: IntakeWarning[] };
    const origin = warnings.find(({ code }) => code === 'weather-from-record');
    expect(origin).toMatchObject({ table: 'weatherStations', key: 'gull', data: { gustFactor: 1.4 } });
    expect(origin?.message).toMatch(/gull-point is counted from the hourly record station\.gull: 2 years/);
    const plan = await getPlan(database.db, seasonId, done.planId as string);
    const tables = windowTablesOf(await windows());
    const { problem } = buildSeasonProblem(file, { windowTables: tables });
    expect(checkPlan(problem, plan.content).violations).toEqual([]);
    // Half of the days are wet: about half a day is lost, and one is held back.
    const table =
      problem.weatherTables[problem.jobs.find(({ id }) => id === 'gull-point')?.weatherTable ?? ''];
    expect(table?.expectedLostDays[30]).toBeCloseTo(0.5, 1);
    expect(table?.reserveDays[30]).toBe(1);
    // With the monthly figures alone the same plan would not be worth the same.
    expect(checkPlan(buildSeasonProblem(file).problem, plan.content).valid).toBe(false);
  });
});
