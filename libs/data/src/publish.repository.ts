import { DryspellError, type Instant, type LocalDate } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Actor } from './actor.ts';
import { type AuditEntry, writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { toDate } from './moments.ts';
import { getPlan, getPublishedPlan } from './plan.repository.ts';
import { comparePlans, type PlanDifference } from './plan-difference.ts';
import { type Patterns, placesOf } from './publish/places.ts';
import { type Written, writeVisits } from './publish/visit-changes.ts';
import { writeMessages } from './publish/write-messages.ts';
import { writeReminders } from './publish/write-reminders.ts';
import { getSeasonById, type SeasonInfo } from './season.repository.ts';
import { loadVisitFacts } from './visit-facts.ts';

export interface PublishInput {
  readonly seasonId: string;
  readonly planId: string;
  /** Version of the plan that the publisher saw. */
  readonly version: number;
  /** The problem of the season; only the patterns of its jobs are read. The caller has checked the plan against it. */
  readonly problem: Patterns;
  readonly actor: Actor;
  readonly now: Instant;
  /** Tokens of links are derived from it. */
  readonly linkSecret: string;
  /** Right-hand side of calendar uids and message ids, such as plan.example.org. */
  readonly mailDomain: string;
}

export interface PublishReport {
  readonly planId: string;
  readonly difference: PlanDifference;
  readonly visits: Counts & { readonly unchanged: number };
  readonly assignments: Counts;
  readonly lifts: Counts;
  /** Messages written. */
  readonly deliveries: number;
  /** Reminders that wait now, for the whole season. */
  readonly reminders: number;
}

interface Counts {
  readonly added: number;
  readonly changed: number;
  readonly cancelled: number;
}

/**
 * Publishes a draft, all in one transaction: the plan published before is superseded, the difference is kept, visits,
 * assignments and holds become those of the plan, and every message, link, reminder and outbox row that this causes is
 * written. Nobody whom nothing concerns hears of it. When it fails, nothing has changed.
 * Throws `not-found`, `version-conflict`, `state-conflict` (no draft, or a begun visit would move), `plan-not-valid`
 * (it names what the season does not have), `overlap` (`data.constraint` says of what).
 */
export async function publishPlan(db: Database, input: PublishInput): Promise<PublishReport> {
  return db.transaction((tx) => publish(tx, input), { timeoutMs: 300_000 });
}

async function publish(tx: Tx, input: PublishInput): Promise<PublishReport> {
  const season = await getSeasonById(tx, input.seasonId);
  const plan = await getPlan({ client: tx }, season.id, input.planId);
  if (plan.version !== input.version) throw new DryspellError('version-conflict', { version: plan.version });
  if (plan.status !== 'draft') throw new DryspellError('state-conflict', { status: plan.status });
  const places = await placesOf(tx, season.id, plan.content, input.problem);
  // Two visits may change places: what overlaps is judged when all are where they belong.
  await tx.$executeRaw`SET CONSTRAINTS ALL DEFERRED`;
  const difference = await exchangePlans(tx, season, input);
  const target = { seasonId: season.id, planId: plan.id, mailDomain: input.mailDomain };
  const written = await writeVisits(tx, target, places);
  await tx.$executeRaw`SET CONSTRAINTS ALL IMMEDIATE`;
  await markJobs(tx, season.id, places);
  const visits = await loadVisitFacts(tx, { seasonId: season.id });
  const deliveries = await writeMessages({ ...input, tx, season }, written, visits);
  const reminders = await writeReminders(tx, {
    seasonId: season.id,
    visits,
    hours: season.head,
    now: input.now,
  });
  await writeAudit(tx, ...auditOf(season, input, plan.number, difference, written));
  return {
    planId: plan.id,
    difference,
    visits: { ...countOf(written.visits), unchanged: written.unchanged },
    assignments: countOf(written.assignments),
    lifts: countOf(written.lifts),
    deliveries,
    reminders,
  };
}

async function exchangePlans(tx: Tx, season: SeasonInfo, input: PublishInput): Promise<PlanDifference> {
  const before = await getPublishedPlan({ client: tx }, season.id);
  const plan = await getPlan({ client: tx }, season.id, input.planId);
  const difference = comparePlans(before?.content ?? null, plan.content);
  if (before) {
    await tx.plan.update({
      where: { id: before.id },
      data: { status: 'superseded', endedAt: toDate(input.now) },
    });
  }
  await tx.plan.update({
    where: { id: plan.id },
    data: {
      status: 'published',
      publishedAt: toDate(input.now),
      publishedById: input.actor.kind === 'user' ? input.actor.id : null,
    },
  });
  await tx.planDifference.create({
    data: {
      seasonId: season.id,
      fromPlanId: before?.id ?? null,
      toPlanId: plan.id,
      content: difference as unknown as Prisma.InputJsonValue,
    },
  });
  return difference;
}

/** Notes the published places at the jobs, where the next planning finds them, and moves the due dates of readiness. */
async function markJobs(
  tx: Tx,
  seasonId: string,
  places: readonly { job: string; startDay: LocalDate; crew: string }[],
): Promise<void> {
  const rows = places.map(({ job, startDay, crew }) => ({ job, startDay, crew }));
  // Jobs that are done keep their place even when the plan does not name them any more.
  await tx.$executeRaw`
    UPDATE jobs AS j SET published_start = n."startDay", published_crew = n.crew
    FROM jobs AS o
      LEFT JOIN jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS n(job text, "startDay" date, crew text) ON n.job = o.key
    WHERE j.id = o.id AND j.season_id = ${seasonId}::uuid
      AND (j.published_start, j.published_crew) IS DISTINCT FROM (n."startDay", n.crew)
      AND NOT (n.job IS NULL AND EXISTS (
        SELECT FROM visits v WHERE v.season_id = j.season_id AND v.job = j.key AND v.state = 'done'))`;
  // A trigger works out the due dates; rows whose date stays keep their version.
  await tx.$executeRaw`UPDATE readiness_items SET due_on = due_on WHERE season_id = ${seasonId}::uuid`;
}

function auditOf(
  season: SeasonInfo,
  input: PublishInput,
  number: number,
  difference: PlanDifference,
  written: Written,
): AuditEntry[] {
  const common = { actor: input.actor, organisationId: season.organisationId, seasonId: season.id };
  const plan: AuditEntry = {
    ...common,
    action: 'plan.published',
    subjectKind: 'plan',
    subjectId: input.planId,
    subjectKey: String(number),
    after: difference,
  };
  const visits = written.visits.map((change) => ({
    ...common,
    action: `visit.${change.what}`,
    subjectKind: 'visit',
    subjectId: change.visitId,
    subjectKey: change.job,
    before: change.before,
    after: change.after,
  }));
  const assignments = written.assignments.map((change) => ({
    ...common,
    action: `assignment.${change.what}`,
    subjectKind: 'assignment',
    subjectId: change.assignmentId,
    subjectKey: change.person,
  }));
  return [plan, ...visits, ...assignments];
}

function countOf(changes: readonly { what: 'added' | 'changed' | 'cancelled' }[]): Counts {
  const count = (what: string) => changes.filter((change) => change.what === what).length;
  return { added: count('added'), changed: count('changed'), cancelled: count('cancelled') };
}
