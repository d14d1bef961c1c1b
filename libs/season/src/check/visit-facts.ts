/** What follows from a visit's job, crew and start: its chain of days, and with it everything that is held for it. */
import type { Crew, Job, LiftUnit } from '../problem.ts';
import { dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import type { StatedVisit } from './stated-plan.ts';

export interface VisitFacts {
  readonly stated: StatedVisit;
  readonly job: Job;
  readonly crew: Crew;
  readonly start: number;
  /** w1..w(n+m) as the definitions give them; shorter where the crew's calendar ends first. */
  readonly chain: readonly number[];
  readonly siteDays: readonly number[];
  readonly reserveDays: readonly number[];
  /** n and m themselves, also where the chain is shorter. */
  readonly siteDayCount: number;
  readonly reserveDayCount: number;
  /** sn. */
  readonly lastSiteDay: number;
  readonly release: number;
  readonly expectedLostDays: number;
  readonly lift: LiftUnit | null;
}

/** A span of calendar days, both included. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Derives the visit; null where it names nothing that can be looked up or starts on no day of the horizon (found). */
export function visitFacts(stated: StatedVisit, facts: SeasonFacts, findings: Findings): VisitFacts | null {
  const { problem } = facts;
  const at = { job: stated.job };
  const job = facts.jobs.get(stated.job);
  const crew = facts.crews.get(stated.crew);
  if (!job)
    findings.add(
      0,
      'unknownJob',
      at,
      `The plan has a visit of job ${stated.job}, which the problem does not hold.`,
    );
  if (!crew) {
    const message = `Job ${stated.job}: its crew ${stated.crew} is not in the problem.`;
    findings.add(0, 'unknownCrew', at, message, { crew: stated.crew });
  }
  const start = stated.days[0];
  if (start === undefined || !Number.isSafeInteger(start)) {
    findings.add(1, 'noStart', at, `Job ${stated.job}: the visit has no first site day.`);
    return null;
  }
  if (!facts.inHorizon(start)) {
    const horizon = `${dateText(problem.firstDay)} to ${dateText(problem.lastDay)}`;
    const message = `Job ${stated.job}: the start ${dateText(start)} lies outside the season's days, ${horizon}.`;
    findings.add(1, 'outsideHorizon', { ...at, day: start }, message);
    return null;
  }
  if (!job || !crew || job.pattern.length === 0) return null;

  const weather = job.weatherTable === null ? null : problem.weatherTables[job.weatherTable];
  const reserveDayCount = weather ? weather.reserveDays[start - problem.firstDay] : 0;
  const expectedLostDays = weather ? weather.expectedLostDays[start - problem.firstDay] : 0;
  if (!isCount(reserveDayCount) || typeof expectedLostDays !== 'number' || !(expectedLostDays >= 0)) {
    const message = `Job ${job.id}: weather table ${job.weatherTable} says nothing usable for ${dateText(start)}.`;
    findings.add(0, 'problemWeather', { ...at, day: start }, message);
    return null;
  }
  const siteDayCount = job.pattern.length;
  const chain = [start];
  while (chain.length < siteDayCount + reserveDayCount) {
    const next = nextWorkingDay(crew, chain.at(-1) as number, facts);
    if (next === null) break;
    chain.push(next);
  }
  const siteDays = chain.slice(0, siteDayCount);
  return {
    stated,
    job,
    crew,
    start,
    chain,
    siteDays,
    reserveDays: chain.slice(siteDayCount),
    siteDayCount,
    reserveDayCount,
    lastSiteDay: siteDays.at(-1) as number,
    release: chain.at(-1) as number,
    expectedLostDays,
    lift: stated.liftUnit === null ? null : (facts.lifts.get(stated.liftUnit) ?? null),
  };
}

/** The calendar days from w1 to w(n+m). */
export function wholeSpan(visit: VisitFacts): Span {
  return { from: visit.start, to: visit.release };
}

/** Index of the first and last pattern day that needs a lift; null: none does. */
export function liftPatternDays(job: Job): { first: number; last: number } | null {
  const needing = job.pattern.flatMap((day, index) => (day.liftType === null ? [] : [index]));
  return needing.length === 0 ? null : { first: needing[0] as number, last: needing.at(-1) as number };
}

/** The held span of the visit's lift, from w(i) to w(j+m); null without need. */
export function liftSpan(visit: VisitFacts): Span | null {
  const days = liftPatternDays(visit.job);
  if (!days) return null;
  return { from: dayOfChain(visit, days.first), to: dayOfChain(visit, days.last + visit.reserveDayCount) };
}

/** The day of the chain with this index, or its last where the calendar ended first. */
export function dayOfChain(visit: VisitFacts, index: number): number {
  return visit.chain[index] ?? visit.release;
}

/** Every calendar day of a span. */
export function daysOf(span: Span): number[] {
  const days: number[] = [];
  for (let day = span.from; day <= span.to; day += 1) days.push(day);
  return days;
}

export function overlap(a: Span, b: Span): boolean {
  return a.from <= b.to && b.from <= a.to;
}

function nextWorkingDay(crew: Crew, after: number, facts: SeasonFacts): number | null {
  for (let day = after + 1; day <= facts.problem.lastDay; day += 1) {
    if (facts.on(crew.works, day)) return day;
  }
  return null;
}

function isCount(value: unknown): value is number {
  return Number.isSafeInteger(value) && (value as number) >= 0;
}
