import { DryspellError, type LocalDate, toLocalDate } from '../../../kernel/src/index.ts';
import type { PlannedVisit, SeasonPlan } from '../../../season/src/plan.ts';
import type { SeasonProblem } from '../../../season/src/problem.ts';
import type { Tx } from '../database.ts';
import { dateFromDatabase } from '../season-tables.ts';

/** Days from the first to the last, both included. */
export interface Span {
  readonly from: LocalDate;
  readonly to: LocalDate;
}

export interface PersonPlace extends Span {
  readonly person: string;
  readonly role: 'lead' | 'hand' | 'trainee' | 'casual';
}

/** Where a plan puts one job, in dates, with whom and with what. */
export interface VisitPlace {
  readonly job: string;
  readonly crew: string;
  readonly startDay: LocalDate;
  readonly endDay: LocalDate;
  readonly releaseDay: LocalDate;
  readonly siteDays: readonly LocalDate[];
  /** The work of each site day, as many as there are site days. */
  readonly work: readonly { readonly outside: boolean; readonly hours: number }[];
  readonly reserveDays: readonly LocalDate[];
  readonly deliveryDay: LocalDate | null;
  readonly fromBase: boolean;
  readonly people: readonly PersonPlace[];
  readonly lift: (Span & { readonly lift: string }) | null;
  readonly equipment: readonly (Span & { readonly unit: string })[];
}

/** What is asked of the problem: the patterns of its jobs. */
export type Patterns = Pick<SeasonProblem, 'jobs'>;

interface Member extends Span {
  readonly crew: string;
  readonly person: string;
  readonly role: PersonPlace['role'];
}

/**
 * The places of all visits of a plan. Throws `plan-not-valid` naming keys that the season does not have, so that a plan
 * of an older state of the season is not published by halves.
 */
export async function placesOf(
  tx: Tx,
  seasonId: string,
  plan: SeasonPlan,
  problem: Patterns,
): Promise<VisitPlace[]> {
  await refuseUnknown(tx, seasonId, plan, problem);
  const members = (await tx.crewMember.findMany({ where: { seasonId } })).map(
    (row): Member => ({
      crew: row.crew,
      person: row.person,
      role: row.role as Member['role'],
      from: dateFromDatabase(row.fromDay),
      to: row.toDay ? dateFromDatabase(row.toDay) : ('9999-12-31' as LocalDate),
    }),
  );
  const leave = (await tx.leave.findMany({ where: { seasonId } })).map((row) => ({
    person: row.person,
    from: dateFromDatabase(row.fromDay),
    to: dateFromDatabase(row.toDay),
  }));
  const jobs = new Map(problem.jobs.map((job) => [job.id, job]));
  return plan.visits.map((visit) => {
    const siteDays = visit.days.map((day) => toLocalDate(day));
    const reserveDays = visit.reserve.map((day) => toLocalDate(day));
    const chain = [...siteDays, ...reserveDays];
    const whole: Span = { from: chain[0] as LocalDate, to: chain.at(-1) as LocalDate };
    const pattern = jobs.get(visit.job)?.pattern ?? [];
    const needs = pattern.map((day) => day.liftType !== null);
    return {
      job: visit.job,
      crew: visit.crew,
      startDay: whole.from,
      endDay: siteDays.at(-1) as LocalDate,
      releaseDay: whole.to,
      siteDays,
      work: pattern.map(({ outside, hours }) => ({ outside, hours })),
      reserveDays,
      deliveryDay: visit.deliveryDay === null ? null : toLocalDate(visit.deliveryDay),
      fromBase: visit.fromBase,
      people: [
        ...crewOn(
          members.filter((member) => member.crew === visit.crew),
          leave,
          siteDays,
          whole.to,
        ),
        ...visit.casualHands.map((person) => ({ person, role: 'casual' as const, ...whole })),
      ],
      lift: visit.liftUnit === null ? null : { lift: visit.liftUnit, ...liftSpan(chain, needs, visit) },
      equipment: visit.equipment.map((unit) => ({ unit, ...whole })),
    };
  });
}

/**
 * If all held-back days are lost, pattern day k falls on chain day k + reserve days: the unit is held from the first day
 * that needs it to the last one so shifted (libs/season/README.md, rule 7).
 */
function liftSpan(chain: readonly LocalDate[], needs: readonly boolean[], visit: PlannedVisit): Span {
  const first = needs.indexOf(true);
  const last = needs.lastIndexOf(true);
  if (first < 0)
    throw new DryspellError('plan-not-valid', { job: visit.job, lift: visit.liftUnit, needs: 'no lift' });
  return { from: chain[first] as LocalDate, to: chain[last + visit.reserve.length] as LocalDate };
}

/** Members who are there on at least one site day, from their first such day; to the release day if there to the end. */
function crewOn(
  members: readonly Member[],
  leave: readonly (Span & { person: string })[],
  siteDays: readonly LocalDate[],
  releaseDay: LocalDate,
): PersonPlace[] {
  return members.flatMap((member) => {
    const away = leave.filter((span) => span.person === member.person);
    const present = siteDays.filter((day) => within(day, member) && !away.some((span) => within(day, span)));
    const [from] = present;
    const last = present.at(-1);
    if (from === undefined || last === undefined) return [];
    const leaves = away.some((span) => span.from > last && span.from <= releaseDay) || member.to < releaseDay;
    const to = last === siteDays.at(-1) && !leaves ? releaseDay : last;
    return [{ person: member.person, role: member.role, from, to }];
  });
}

function within(day: LocalDate, span: Span): boolean {
  return span.from <= day && day <= span.to;
}

async function refuseUnknown(tx: Tx, seasonId: string, plan: SeasonPlan, problem: Patterns): Promise<void> {
  const where = { where: { seasonId }, select: { key: true } } as const;
  const known = {
    job: keysOf(await tx.job.findMany(where)),
    crew: keysOf(await tx.crew.findMany(where)),
    person: keysOf(await tx.person.findMany(where)),
    lift: keysOf(await tx.lift.findMany(where)),
    equipment: keysOf(await tx.equipmentUnit.findMany(where)),
  };
  const lengths = new Map(problem.jobs.map((job) => [job.id, job.pattern.length]));
  const unknown: string[] = [];
  const look = (kind: keyof typeof known, key: string) => {
    if (!known[kind].has(key)) unknown.push(`${kind} ${key}`);
  };
  for (const visit of plan.visits) {
    look('job', visit.job);
    if (lengths.get(visit.job) !== visit.days.length)
      unknown.push(`${visit.days.length} days of job ${visit.job}`);
    look('crew', visit.crew);
    for (const person of visit.casualHands) look('person', person);
    if (visit.liftUnit !== null) look('lift', visit.liftUnit);
    for (const unit of visit.equipment) look('equipment', unit);
  }
  if (unknown.length > 0) throw new DryspellError('plan-not-valid', { unknown: [...new Set(unknown)] });
}

function keysOf(rows: readonly { key: string }[]): Set<string> {
  return new Set(rows.map((row) => row.key));
}
