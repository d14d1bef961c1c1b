/**
 * One page of a season's jobs by the real API (a program's token, sign-in read from the database, checks of the input and of the answer)
 * against a bare Fastify route that runs one SQL statement for the same rows. Each is a process of its own with ten connections to the
 * same PostgreSQL; the load comes from this process. All share the machine, so only the ratio says something.
 */
import { randomBytes } from 'node:crypto';
import type { SeasonFile } from '../../libs/contracts/src/index.ts';
import { inviteUser } from '../../libs/data/src/account.repository.ts';
import { hashToken } from '../../libs/data/src/action-link.repository.ts';
import { createApiToken } from '../../libs/data/src/api-token.repository.ts';
import { type BenchResult, machineWords, median, rounded } from './bench-result.ts';
import { type BenchSeason, benchActor, demoSeason, openBenchSeason } from './bench-season.ts';
import { startChild } from './child-process.ts';
import { ask, type LoadResult, type LoadTarget, load } from './load-loop.ts';

const JOBS = 200;
const ROUNDS = 3;
const WARM_UP_SEC = 2;
const ROUND_SEC = 4;

export async function run(): Promise<BenchResult> {
  const season = await openBenchSeason(manyJobs(demoSeason()));
  const token = await tokenFor(season);
  const api = await startChild('dist/apps/api/src/main.js', {
    DATABASE_URL: season.url,
    PORT: '0',
    DRYSPELL_SECRET: randomBytes(32).toString('hex'),
    DRYSPELL_LOG_LEVEL: 'warn',
    DRYSPELL_RATE_PER_MIN: '1000000',
  });
  const bare = await startChild('tests/bench/bare-route.child.ts', {
    DATABASE_URL: season.url,
    SEASON_ID: season.seasonId,
  });
  try {
    const { url } = api.ready as { url: string };
    const ours: LoadTarget = {
      url: `${url}/api/v1/seasons/${demoSeason().season.key}/jobs`,
      headers: { authorization: `Bearer ${token}` },
    };
    const theirs: LoadTarget = { url: `${(bare.ready as { url: string }).url}/jobs`, headers: {} };
    await requireSameRows(ours, theirs);
    for (const target of [ours, theirs]) await load(target, WARM_UP_SEC);
    const before = await committed(season);
    const { asked } = await countAsked(ours);
    const perRequest = ((await committed(season)) - before) / asked;
    const rounds: { ours: LoadResult; theirs: LoadResult }[] = [];
    for (let round = 0; round < ROUNDS; round += 1)
      rounds.push({ ours: await load(ours, ROUND_SEC), theirs: await load(theirs, ROUND_SEC) });
    return resultOf(rounds, perRequest);
  } finally {
    await Promise.all([api.stop(), bare.stop()]);
    await season.close();
  }
}

function resultOf(
  rounds: readonly { ours: LoadResult; theirs: LoadResult }[],
  perRequest: number,
): BenchResult {
  const ratios = rounds.map(({ ours, theirs }) => ours.perSecond / theirs.perSecond);
  const all = (pick: (round: (typeof rounds)[number]) => number): string => rounds.map(pick).join(', ');
  return {
    name: 'requests',
    yardstick:
      'a bare Fastify route with one SQL statement for the same 50 rows, same pool size, requests a second',
    ratio: rounded(median(ratios)),
    better: 'higher',
    figures: {
      'jobs in the season, rows of the page': `${JOBS}, 50`,
      'connections of the load, rounds of seconds': `16, ${ROUNDS} x ${ROUND_SEC}`,
      'API: requests a second': all(({ ours }) => ours.perSecond),
      'API: median ms': all(({ ours }) => ours.medianMs),
      'API: ms of the slowest hundredth': all(({ ours }) => ours.slowMs),
      'API: transactions of the database a request': rounded(perRequest),
      'bare route: requests a second': all(({ theirs }) => theirs.perSecond),
      'bare route: median ms': all(({ theirs }) => theirs.medianMs),
      'bare route: ms of the slowest hundredth': all(({ theirs }) => theirs.slowMs),
      'ratio of each round': ratios.map(rounded).join(', '),
    },
    machine: machineWords(),
  };
}

function manyJobs(file: SeasonFile): SeasonFile {
  const templates = file.jobs.filter((job) => file.jobKits.some(({ job: key }) => key === job.key));
  const jobs = Array.from({ length: JOBS - file.jobs.length }, (_, at) => {
    const model = templates[at % templates.length] as SeasonFile['jobs'][number];
    return { ...model, key: `bench-${String(at).padStart(3, '0')}`, pinnedStart: null, pinnedCrew: null };
  });
  return { ...file, jobs: [...file.jobs, ...jobs] };
}

async function tokenFor({ db, organisationId }: BenchSeason): Promise<string> {
  const account = await inviteUser(db, {
    organisationId,
    email: 'bench@larch.example',
    name: 'Bench',
    role: 'manager',
    subjectKey: null,
    actor: benchActor,
  });
  const token = randomBytes(32).toString('base64url');
  await createApiToken(db, {
    account,
    name: 'bench',
    tokenHash: hashToken(token),
    expiresAt: null,
    actor: benchActor,
  });
  return token;
}

/** The yardstick must do the same work: the same rows in the same order. */
async function requireSameRows(ours: LoadTarget, theirs: LoadTarget): Promise<void> {
  const [a, b] = (await Promise.all([ask(ours.url, ours.headers), ask(theirs.url, theirs.headers)])).map(
    (text) => rowsOf(JSON.parse(text)),
  );
  if (a !== b) throw new Error('the API and the bare route answer with different rows');
}

function rowsOf({ items }: { items: { version: number; row: Record<string, unknown> }[] }): string {
  return JSON.stringify(
    items.map(({ version, row }) => [
      version,
      Object.entries(row)
        .filter(([, value]) => value !== null)
        .sort(([x], [y]) => (x < y ? -1 : 1)),
    ]),
  );
}

async function countAsked({ url, headers }: LoadTarget): Promise<{ asked: number }> {
  const asked = 50;
  for (let at = 0; at < asked; at += 1) await ask(url, headers);
  return { asked };
}

/** Transactions that the database has committed; its counts come late, so after a pause. */
async function committed({ db }: BenchSeason): Promise<number> {
  await new Promise((resolve) => setTimeout(resolve, 1500));
  const [row] = await db.client.$queryRaw<{ count: number }[]>`
    SELECT xact_commit::float8 AS count FROM pg_stat_database WHERE datname = current_database()`;
  return row?.count ?? Number.NaN;
}
