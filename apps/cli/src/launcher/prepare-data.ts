import type { PlanFile } from '../../../../libs/contracts/src/plan-file.ts';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { listOrganisations, type Organisation } from '../../../../libs/data/src/organisation.repository.ts';
import { createDraftPlan, getPlan, listPlans } from '../../../../libs/data/src/plan.repository.ts';
import { listSeasons, type SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { buildSeasonProblem } from '../../../../libs/intake/src/index.ts';
import { formatCents } from '../../../../libs/kernel/src/index.ts';
import { makeSignInLink } from '../accounts/sign-in-link.ts';
import { planLines } from '../plan/plan-lines.ts';
import { planSeasonFile } from '../plan/plan-season-file.ts';
import { plainLine } from '../program/plain-error.ts';
import { managerOf, onlyOrganisation, seedDemo } from './first-run.ts';
import type { StageReport } from './stage-report.ts';

const actor = systemActor('start');
/** Any number; the same one, so that the first plan of the demo is found the same way everywhere. */
const DEMO_SEED = 2027;
const DEMO_SECONDS_A_JOB = 0.25;

export interface ShownPlan {
  readonly seasonName: string;
  readonly isPublished: boolean;
  readonly visits: number;
  /** With its currency. */
  readonly total: string;
  /** The table of visits, the costs and the bound. */
  readonly lines: readonly string[];
}

export interface SignInLink {
  readonly url: string;
  readonly expiresAt: string;
  readonly email: string;
}

export interface PrepareInput {
  readonly demo: boolean;
  readonly publicUrl: string;
  readonly report: StageReport;
  readonly signal: AbortSignal;
}

const todayOf = (now: Date): string => now.toISOString().slice(0, 10);

/** First run: the demo seasons and a plan for each. Every run: an organisation, a manager, a fresh link, the plans to show. */
export async function prepareData(
  db: Database,
  input: PrepareInput,
): Promise<{ plans: ShownPlan[]; signIn: SignInLink }> {
  const { report } = input;
  const isFirstRun = (await listOrganisations(db)).length === 0;
  if (isFirstRun && input.demo) {
    await report.stage('demo', async () => {
      const names = await seedDemo(db);
      return { value: undefined, said: `${names.length} invented seasons: ${names.join('; ')}` };
    });
  }
  const organisation = await onlyOrganisation(db);
  if (organisation.isDemo) await planDemo(db, organisation, input);
  const email = await managerOf(db, organisation);
  const link = await makeSignInLink(db, { email, publicUrl: input.publicUrl, now: new Date(), actor });
  return { plans: await plansToShow(db, organisation, report), signIn: { ...link, email } };
}

/** A demo season without any plan gets one; also when an earlier first start was killed before it was there. */
async function planDemo(db: Database, organisation: Organisation, input: PrepareInput): Promise<void> {
  for (const season of await listSeasons(db, organisation.id)) {
    if (!season.head.isDemo || (await listPlans(db, season.id)).length > 0) continue;
    await input.report.stage('planning', async () => {
      const file = await exportSeason(db, organisation.id, season.head.key);
      const search = {
        seed: DEMO_SEED,
        seconds: Math.max(2, file.jobs.length * DEMO_SECONDS_A_JOB),
        signal: input.signal,
        onProgress: ({ fraction, bestCents }: { fraction: number; bestCents: number }) =>
          input.report.progress(
            `planning ${season.head.key}: ${Math.round(fraction * 100)} %, best so far ${formatCents(bestCents, file.season.currency)}`,
          ),
      };
      const planned = await planSeasonFile(file, todayOf(new Date()), search, (line) =>
        input.report.progress(line),
      );
      await createDraftPlan(db, { seasonId: season.id, plan: planned.plan, title: 'First plan', actor });
      return { value: undefined, said: plannedLine(file.season.currency, season, planned) };
    });
  }
}

function plannedLine(
  currency: string,
  season: SeasonInfo,
  { planFile, firstComeCents }: { planFile: PlanFile; firstComeCents: number | null },
): string {
  const yardstick =
    firstComeCents === null
      ? ''
      : `; first come, first served would cost ${formatCents(firstComeCents, currency)}`;
  const visits = `${planFile.visits.length} of ${planFile.visits.length + planFile.notPlanned.length} jobs have dates`;
  return `${season.head.key}: ${visits}, ${formatCents(planFile.totalCents, currency)}${yardstick}`;
}

/** The published plan of each season that has not ended, else its newest draft; the earliest season first. */
async function plansToShow(
  db: Database,
  organisation: Organisation,
  report: StageReport,
): Promise<ShownPlan[]> {
  const today = todayOf(new Date());
  const seasons = (await listSeasons(db, organisation.id))
    .filter(({ head }) => head.lastDay >= today)
    .reverse();
  const shown: ShownPlan[] = [];
  for (const season of seasons) {
    const plans = await listPlans(db, season.id);
    const info =
      plans.find(({ status }) => status === 'published') ?? plans.find(({ status }) => status === 'draft');
    if (info === undefined) continue;
    try {
      const file = await exportSeason(db, organisation.id, season.head.key);
      const { problem } = buildSeasonProblem(file, { today });
      const { content } = await getPlan(db, season.id, info.id);
      shown.push({
        seasonName: season.head.name,
        isPublished: info.status === 'published',
        visits: content.visits.length,
        total: formatCents(content.totalCents, season.head.currency),
        lines: planLines(file, problem, content, null),
      });
    } catch (error) {
      report.say(`the plan of ${season.head.key} is not shown here: ${plainLine(error)}`);
    }
  }
  return shown;
}
