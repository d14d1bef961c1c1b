import { JOBS } from '../../../libs/contracts/src/jobs/index.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { oldestWaitingOutboxAt } from '../../../libs/data/src/outbox.repository.ts';
import { nextReminderAt } from '../../../libs/data/src/reminder.repository.ts';
import type { ForecastSource } from '../../../libs/forecast/src/forecast-source.port.ts';
import { type Clock, instantFromMs } from '../../../libs/kernel/src/index.ts';
import { createMailChannel } from '../../../libs/messages/src/mail-channel.ts';
import { openQueue } from '../../../libs/queue/src/open-queue.ts';
import type { Queue } from '../../../libs/queue/src/queue.port.ts';
import { holdAliveLock } from './alive-lock.ts';
import type { WorkerConfig } from './config.ts';
import { forecastSourcesOf } from './forecast-sources.ts';
import { type Readiness, startHealthServer } from './health-server.ts';
import { deliverySendHandler } from './jobs/delivery-send.handler.ts';
import { planRunHandler } from './jobs/plan-run.handler.ts';
import { weatherFetchHandler } from './jobs/weather-fetch.handler.ts';
import { weatherImportHandler } from './jobs/weather-import.handler.ts';
import { type Leader, startLeader } from './leader.ts';
import type { Log } from './log.ts';
import { startOutboxRelay } from './outbox-relay.ts';
import { startStallMonitor } from './stall-monitor.ts';
import type { SteadyLoop } from './steady-loop.ts';
import { briefsSweep, briefWatchSweep } from './sweeps/briefs.sweep.ts';
import { deliveriesSweep } from './sweeps/deliveries.sweep.ts';
import { evidenceSweep } from './sweeps/evidence.sweep.ts';
import { planRunsSweep } from './sweeps/plan-runs.sweep.ts';
import { remindersSweep } from './sweeps/reminders.sweep.ts';
import { tidySweep } from './sweeps/tidy.sweep.ts';
import { weatherFeedsSweep } from './sweeps/weather-feeds.sweep.ts';
import { weatherImportsSweep } from './sweeps/weather-imports.sweep.ts';
import { planBesideYardstick } from './threads/planner-pool.ts';

export interface RunningWorker {
  readonly healthPort: number | null;
  readiness(): Promise<Readiness>;
  /** Takes nothing new, lets running jobs end, and disconnects. */
  stop(): Promise<void>;
}

const systemClock: Clock = { now: () => instantFromMs(Date.now()) };
/** The relay looks twice a second; when it has not succeeded for so long, something is wrong. */
const RELAY_STALE_MS = 30_000;

/** Puts the worker together and starts it. Throws what keeps it from starting, after letting go of what was opened. */
export async function startWorker(
  config: WorkerConfig,
  log: Log,
  clock: Clock = systemClock,
): Promise<RunningWorker> {
  const undo: (() => unknown)[] = [];
  const undoAll = async () => {
    for (const step of undo.splice(0).reverse()) await step();
  };
  try {
    const { databaseUrl, workerName } = config;
    const db = createDatabase({ url: databaseUrl });
    undo.push(() => db.close());
    await db.ping();
    const alive = await holdAliveLock({ databaseUrl, workerName, log });
    undo.push(() => alive.release());
    const queue = await openQueue({ jobs: JOBS, databaseUrl, redisUrl: config.redisUrl, log });
    undo.push(() => queue.close(config.drainMs));
    const stalls = startStallMonitor(log);
    undo.push(() => stalls.stop());
    const sources = forecastSourcesOf(config.forecasts, clock);
    await queue.consume(handlersOf(config, { db, clock, log, sources }), {
      concurrency: { 'plan.run': config.plansAtOnce },
      onStart: stalls.onStart,
      onEnd: stalls.onEnd,
    });
    const leader = startLeader({
      databaseUrl,
      log,
      sweeps: sweepsOf(config, { db, queue, clock, log, sources }),
    });
    undo.push(() => leader.stop());
    const relay = startOutboxRelay({ db, queue, clock, log });
    undo.push(() => relay.stop());
    const readiness = () => readinessOf({ db, queue, relay, leader }, stalls.takeWorstMs);
    const health =
      config.healthPort === undefined ? null : await startHealthServer(config.healthPort, readiness);
    undo.push(() => health?.close());
    const mail = config.mail ? 'sent' : 'held';
    log.info(
      {
        worker: workerName,
        queue: queue.backend,
        mail,
        plansAtOnce: config.plansAtOnce,
        forecasts: sources.map(({ service }) => service),
      },
      'worker is ready',
    );
    return { healthPort: health?.port ?? null, readiness, stop: undoAll };
  } catch (error) {
    await undoAll();
    throw error;
  }
}

interface Common {
  readonly db: Database;
  readonly clock: Clock;
  readonly log: Log;
  readonly sources: readonly ForecastSource[];
}

function handlersOf(config: WorkerConfig, common: Common) {
  const channel = config.mail ? createMailChannel(config.mail) : null;
  // Held messages carry no sender; the address is only read when something is sent.
  const from = config.mail?.from ?? { address: `unset@${new URL(config.publicUrl).hostname}` };
  return {
    'delivery.send': deliverySendHandler({
      ...common,
      channel,
      holdReason: config.holdReason,
      mail: { publicUrl: config.publicUrl, secret: config.secret, from },
      workerName: config.workerName,
    }),
    'plan.run': planRunHandler({ ...common, plan: planBesideYardstick }),
    'weather.fetch': weatherFetchHandler({ ...common, random: Math.random }),
    'weather.import': weatherImportHandler(common),
  };
}

function sweepsOf(config: WorkerConfig, common: Common & { queue: Queue<typeof JOBS> }) {
  const mailDomain = new URL(config.publicUrl).hostname;
  return [
    remindersSweep({ ...common, mailDomain }),
    briefsSweep({ ...common, mailDomain }),
    briefWatchSweep(common),
    evidenceSweep(common),
    deliveriesSweep({
      ...common,
      databaseUrl: config.databaseUrl,
      workerName: config.workerName,
      onlyHolds: config.mail === null,
    }),
    planRunsSweep(common),
    weatherFeedsSweep({ ...common, reachDays: config.forecasts.reachDays }),
    weatherImportsSweep(common),
    tidySweep(common),
  ];
}

async function readinessOf(
  parts: { db: Database; queue: Queue<typeof JOBS>; relay: SteadyLoop; leader: Leader },
  takeWorstMs: () => number,
): Promise<Readiness> {
  const { db, queue, relay, leader } = parts;
  const queueHealth = await queue.health();
  const database = await db.ping().then(
    () => true,
    () => false,
  );
  const outbox = relay.lastWellAt !== null && Date.now() - relay.lastWellAt < RELAY_STALE_MS;
  return {
    checks: { database, queue: queueHealth.reachable, outbox },
    facts: {
      leads: leader.leads,
      queue: queueHealth,
      oldestOutboxRowAt: database ? await oldestWaitingOutboxAt(db) : null,
      nextReminderAt: database ? await nextReminderAt(db) : null,
      longestStallMs: takeWorstMs(),
    },
  };
}
