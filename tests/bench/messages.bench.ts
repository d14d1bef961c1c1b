/**
 * Messages a second on the whole way: rows written by publishing, outbox, relay, queue, worker, mail handed to an SMTP server on this
 * machine, each end recorded before and after. Against jobs that do nothing on the same queue with as many at once. Also with no mail
 * server, where messages are held: the same way without the mail. On PostgreSQL, and on Redis where there is one.
 */
import { randomBytes, randomUUID } from 'node:crypto';
import { addDeliveries, type NewDelivery } from '../../libs/data/src/new-delivery.ts';
import { createDraftPlan } from '../../libs/data/src/plan.repository.ts';
import { publishPlan } from '../../libs/data/src/publish.repository.ts';
import { buildSeasonProblem } from '../../libs/intake/src/index.ts';
import type { Instant } from '../../libs/kernel/src/index.ts';
import { openQueue } from '../../libs/queue/src/open-queue.ts';
import { MAX_BATCH } from '../../libs/queue/src/queue.port.ts';
import { firstComeFirstServed } from '../../libs/season/src/index.ts';
import { type BenchResult, machineWords, median, rounded } from './bench-result.ts';
import { type BenchSeason, benchActor, demoSeason, openBenchSeason } from './bench-season.ts';
import { startChild } from './child-process.ts';
import { startMailSink } from './mail-sink.ts';
import { NO_OP_JOBS, noOpJob, silentLog } from './no-op-job.ts';

const MESSAGES = 200;
const ROUNDS = 3;
const SECRET = randomBytes(32).toString('hex');

type Backend = { readonly name: 'PostgreSQL' | 'Redis'; readonly redisUrl: string | undefined };

export async function run(): Promise<BenchResult> {
  const redisUrl = process.env['DRYSPELL_TEST_REDIS_URL'];
  const backends: Backend[] = [{ name: 'PostgreSQL', redisUrl: undefined }];
  if (redisUrl) backends.push({ name: 'Redis', redisUrl });
  const figures: Record<string, number | string> = {
    'messages a round, rounds': `${MESSAGES}, ${ROUNDS}`,
    'at once in the worker': 4,
  };
  if (!redisUrl) figures['Redis'] = 'left out: there is no redis-server here and REDIS_URL is not set';
  let ratio = Number.NaN;
  for (const backend of backends) {
    const { name } = backend;
    const { sent, held, nothing } = await measure(backend);
    const ratios = sent.map((rate, round) => rate / (nothing[round] as number));
    if (name === 'PostgreSQL') ratio = rounded(median(ratios));
    figures[`queue on ${name}: messages sent a second`] = sent.map(rounded).join(', ');
    figures[`queue on ${name}: messages held a second (no mail server)`] = held.map(rounded).join(', ');
    figures[`queue on ${name}: jobs that do nothing a second`] = nothing.map(rounded).join(', ');
    figures[`queue on ${name}: sent by nothing, of each round`] = ratios.map(rounded).join(', ');
    figures[`queue on ${name}: held by nothing`] = rounded(median(held) / median(nothing));
  }
  return {
    name: 'messages',
    yardstick: 'jobs that do nothing on the same queue (PostgreSQL), as many at once, jobs a second',
    ratio,
    better: 'higher',
    figures,
    machine: machineWords(),
  };
}

/** One way of doing work: a round of it answers how many a second. */
interface Side {
  round(round: number): Promise<number>;
  close(): Promise<void>;
}

/** All three in turns, so that what else the machine does hits each alike. */
async function measure(backend: Backend): Promise<Record<'sent' | 'held' | 'nothing', number[]>> {
  const rates = { sent: [] as number[], held: [] as number[], nothing: [] as number[] };
  const sides: Partial<Record<keyof typeof rates, Side>> = {};
  try {
    sides.sent = await messages(backend, true);
    sides.held = await messages(backend, false);
    sides.nothing = await noOps(backend);
    for (let round = 0; round < ROUNDS; round += 1)
      for (const [name, side] of Object.entries(sides))
        rates[name as keyof typeof rates].push(await side.round(round));
    return rates;
  } finally {
    for (const side of Object.values(sides)) await side.close();
  }
}

/** A database of a Redis server of its own for each side, so that they do not take one another's jobs. */
function redisOf({ redisUrl }: Backend, database: number): Record<string, string> {
  if (!redisUrl) return {};
  const url = new URL(redisUrl);
  url.pathname = `/${database}`;
  return { REDIS_URL: url.href };
}

/** Publishes, lets that go out as a warm-up; a round is then copies of those messages, from their commit to the last end. */
async function messages(backend: Backend, withMail: boolean): Promise<Side> {
  const season = await openBenchSeason(demoSeason());
  const sink = await startMailSink();
  await publishDemo(season);
  const worker = await startChild('dist/apps/worker/src/main.js', {
    DATABASE_URL: season.url,
    DRYSPELL_PUBLIC_URL: 'https://plan.larch.example',
    DRYSPELL_SECRET: SECRET,
    DRYSPELL_LOG_LEVEL: 'warn',
    ...redisOf(backend, withMail ? 1 : 2),
    ...(withMail ? { DRYSPELL_SMTP_URL: sink.url, DRYSPELL_MAIL_FROM: 'plan@larch.example' } : {}),
  });
  await allSettled(season);
  const state = withMail ? 'sent' : 'held';
  const count = (): Promise<number> => season.db.client.delivery.count({ where: { state } });
  return {
    async round(round) {
      const [doneBefore, takenBefore] = [await count(), sink.taken()];
      await addCopies(season, round);
      const startedMs = performance.now();
      await allSettled(season);
      const rate = MESSAGES / ((performance.now() - startedMs) / 1000);
      const [done, taken] = [(await count()) - doneBefore, sink.taken() - takenBefore];
      if (done !== MESSAGES) throw new Error(`${done} of ${MESSAGES} messages are ${state}`);
      if (taken !== (withMail ? MESSAGES : 0)) throw new Error(`the mail server took ${taken} messages`);
      return rate;
    },
    async close() {
      await worker.stop();
      await sink.close();
      await season.close();
    },
  };
}

async function publishDemo({ db, seasonId }: BenchSeason): Promise<void> {
  const { problem } = buildSeasonProblem(demoSeason());
  const outcome = firstComeFirstServed(problem);
  if (outcome.kind !== 'plan') throw new Error('the demo season has no plan');
  const draft = await createDraftPlan(db, { seasonId, plan: outcome.plan, actor: benchActor });
  await publishPlan(db, {
    seasonId,
    planId: draft.id,
    version: draft.version,
    problem,
    actor: benchActor,
    now: pastNoon(),
    linkSecret: SECRET,
    mailDomain: 'plan.larch.example',
  });
}

/** Noon of a past day at all sites, so that no message waits for the end of quiet hours. */
function pastNoon(): Instant {
  const day = new Date(Date.now() - 2 * 86_400_000).toISOString().slice(0, 10);
  return `${day}T16:00:00.000Z` as Instant;
}

/** As many copies as a round has, over all published messages in turn, with their outbox rows, in one transaction. */
async function addCopies({ db, seasonId }: BenchSeason, round: number): Promise<void> {
  const models = await db.client.delivery.findMany({
    where: { seasonId, address: { not: null }, dedupeKey: { not: { startsWith: 'bench-' } } },
    orderBy: { createdAt: 'asc' },
  });
  const copies = Array.from({ length: MESSAGES }, (_, at): NewDelivery => {
    const model = models[at % models.length] as (typeof models)[number];
    return {
      organisationId: model.organisationId,
      seasonId,
      channel: 'mail',
      recipient: { kind: model.recipientKind, key: model.recipientKey } as NewDelivery['recipient'],
      address: model.address,
      language: model.language,
      template: model.template,
      data: model.data as object,
      dedupeKey: `bench-${round}-${at}`,
      notBefore: pastNoon(),
    };
  });
  await db.transaction(async (tx) => addDeliveries(tx, 'plan.larch.example', copies));
}

async function allSettled({ db }: BenchSeason): Promise<void> {
  const open = { state: { in: ['pending', 'sending', 'handing_over'] } };
  for (let tries = 0; tries < 6_000; tries += 1) {
    if ((await db.client.delivery.count({ where: open })) === 0) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error('messages still wait after five minutes');
}

async function noOps(backend: Backend): Promise<Side> {
  const season = await openBenchSeason(demoSeason());
  const redis = redisOf(backend, 3);
  const space = 'queue';
  const consumer = await startChild('tests/bench/no-op-queue.child.ts', {
    DATABASE_URL: season.url,
    SPACE: space,
    ...redis,
  });
  const queue = await openQueue({
    jobs: NO_OP_JOBS,
    databaseUrl: season.url,
    redisUrl: redis['REDIS_URL'],
    log: silentLog,
    space,
  });
  const round = async (): Promise<number> => {
    consumer.send({ expect: MESSAGES });
    await consumer.next();
    const items = Array.from({ length: MESSAGES }, () => {
      const deliveryId = randomUUID();
      return { payload: { deliveryId }, dedupeKey: deliveryId };
    });
    const startedMs = performance.now();
    for (let at = 0; at < items.length; at += MAX_BATCH)
      await queue.enqueueMany(noOpJob, items.slice(at, at + MAX_BATCH));
    await consumer.next();
    return MESSAGES / ((performance.now() - startedMs) / 1000);
  };
  await round();
  return {
    round,
    async close() {
      await queue.close(1000);
      await consumer.stop();
      await season.close();
    },
  };
}
