/** Every visit that a small season allows by itself, with what it would cost and could hold, asked of the independent checker. */
import { type Day, hashOf } from '../../libs/kernel/src/index.ts';
import { checkPlan } from '../../libs/season/src/check/index.ts';
import type {
  CostLine,
  Crew,
  Job,
  PlannedVisit,
  SeasonPlan,
  SeasonProblem,
} from '../../libs/season/src/index.ts';

export interface VisitOption {
  readonly job: Job;
  readonly crew: Crew;
  readonly visit: PlannedVisit;
  /** Name in the programme: 1 when the visit is in the plan. */
  readonly name: string;
  readonly release: Day;
  /** Cents that the visit brings by itself: late, moved, crew changed, standby without lift. */
  readonly ownCents: number;
  readonly lifts: readonly {
    readonly unit: string;
    readonly standbyCents: number;
    readonly from: Day;
    readonly paidTo: Day;
    readonly heldTo: Day;
  }[];
  readonly equipment: readonly (readonly string[])[];
  readonly covers: readonly { readonly hands: readonly string[]; readonly cents: number }[];
}

/** A plan of these visits, all other jobs left out, with lines and total as the checker works them out. */
export function planWith(problem: SeasonProblem, visits: readonly PlannedVisit[]): SeasonPlan {
  const plan = barePlan(problem, visits);
  const { costLines, totalCents } = checkPlan(problem, plan);
  return { ...plan, problemHash: hashOf(problem), costLines, totalCents };
}

function barePlan(problem: SeasonProblem, visits: readonly PlannedVisit[]): SeasonPlan {
  const planned = new Set(visits.map((visit) => visit.job));
  return {
    formatVersion: 1,
    problemHash: '',
    visits,
    notPlanned: problem.jobs
      .filter((job) => !planned.has(job.id))
      .map((job) => ({ job: job.id, bindings: [] })),
    costLines: [],
    totalCents: 0,
    bound: null,
    made: { seed: 0, iterations: 0, method: 'mixed-integer programme' },
  };
}

const JOB_KINDS = new Set(['late', 'notPlanned', 'standby', 'casualHands', 'moved', 'crewChanged']);

/** Cents of the lines that belong to a job. */
export function ownCentsOf(costLines: readonly CostLine[], job: string): number {
  return costLines
    .filter((line) => line.job === job && JOB_KINDS.has(line.kind))
    .reduce((sum, line) => sum + line.cents, 0);
}

/** What the checker says of a visit that stands alone in a plan. */
function asked(problem: SeasonProblem, visit: PlannedVisit): { rules: Set<number>; ownCents: number } {
  const { violations, costLines } = checkPlan(problem, barePlan(problem, [visit]));
  return {
    rules: new Set(violations.map((violation) => violation.rule)),
    ownCents: ownCentsOf(costLines, visit.job),
  };
}

export function visitOptions(whole: SeasonProblem): VisitOption[] {
  const options: VisitOption[] = [];
  for (const job of whole.jobs) {
    // What one visit may be and costs by itself does not depend on other jobs and crews; without them the checker is quicker.
    const weatherTables =
      job.weatherTable === null ? {} : { [job.weatherTable]: whole.weatherTables[job.weatherTable]! };
    for (const crew of whole.crews) {
      const members = new Set(crew.members.map((member) => member.hand));
      const hands = whole.hands.filter((hand) => members.has(hand.id));
      const problem: SeasonProblem = { ...whole, jobs: [job], crews: [crew], hands, weatherTables };
      for (let start = problem.firstDay; start <= problem.lastDay; start = (start + 1) as Day) {
        const option = visitOption(problem, job, crew, start);
        if (option) options.push(option);
      }
    }
  }
  return options;
}

function visitOption(problem: SeasonProblem, job: Job, crew: Crew, start: Day): VisitOption | null {
  const table = job.weatherTable === null ? undefined : problem.weatherTables[job.weatherTable];
  const reserveCount = table?.reserveDays[start - problem.firstDay] ?? 0;
  const chain = workingDays(problem, crew, start, job.pattern.length + reserveCount);
  if (!chain) return null;
  const bare: PlannedVisit = {
    job: job.id,
    crew: crew.id,
    days: chain.slice(0, job.pattern.length),
    reserve: chain.slice(job.pattern.length),
    casualHands: [],
    liftUnit: null,
    equipment: [],
    deliveryDay: null,
    fromBase: true,
    bindings: [],
  };
  const withoutHolds = deliveries(job, start).find((deliveryDay) => {
    const { rules } = asked(problem, { ...bare, deliveryDay });
    return ![1, 2, 3, 9].some((rule) => rules.has(rule));
  });
  if (withoutHolds === undefined) return null;
  const visit = { ...bare, deliveryDay: withoutHolds };
  const plain = asked(problem, visit).ownCents;
  const covers = handSets(problem)
    .map((hands) => ({ hands, ...asked(problem, { ...visit, casualHands: hands }) }))
    .filter((each) => !each.rules.has(4))
    .map(({ hands, ownCents }) => ({ hands, cents: ownCents - plain }));
  const equipment = job.equipmentKinds.map((kind) =>
    problem.equipment
      .filter(
        (unit) =>
          unit.kind === kind &&
          [...unit.usable.slice(start - problem.firstDay, lastOf(chain) - problem.firstDay + 1)].every(
            (day) => day === '1',
          ),
      )
      .map((unit) => unit.id),
  );
  const needs = job.pattern.flatMap((day, k) => (day.liftType === null ? [] : [k]));
  const lifts =
    needs.length === 0
      ? []
      : problem.lifts
          .map((lift) => ({ lift, ...asked(problem, { ...visit, liftUnit: lift.id }) }))
          .filter((each) => !each.rules.has(7))
          .map(({ lift, ownCents }) => ({
            unit: lift.id,
            standbyCents: ownCents - plain,
            from: chain[needs[0]!]!,
            paidTo: chain[lastOf(needs)]!,
            heldTo: chain[lastOf(needs) + reserveCount]!,
          }));
  if (covers.length === 0 || equipment.some((units) => units.length === 0)) return null;
  if (needs.length > 0 && lifts.length === 0) return null;
  const name = `x_${job.id}_${crew.id}_${start - problem.firstDay}`;
  return { job, crew, visit, name, release: lastOf(chain), ownCents: plain, lifts, equipment, covers };
}

/** Delivery days from early to late. Earlier is never dearer (see the README's formulas), so the first valid one is taken. */
function deliveries(job: Job, start: Day): (Day | null)[] {
  if (!job.goods) return [null];
  const days = Array.from({ length: job.goods.siteStorageDays + 1 }, (_, before) => (start - before) as Day);
  return days.reverse();
}

function handSets(problem: SeasonProblem): string[][] {
  const ids = problem.casualHands.map((hand) => hand.id);
  return [[], ...ids.map((id) => [id]), ...ids.flatMap((a, at) => ids.slice(at + 1).map((b) => [a, b]))];
}

function workingDays(problem: SeasonProblem, crew: Crew, start: Day, count: number): Day[] | null {
  const days: Day[] = [];
  for (let day = start; day <= problem.lastDay && days.length < count; day = (day + 1) as Day) {
    if (crew.works[day - problem.firstDay] === '1') days.push(day);
    else if (days.length === 0) return null;
  }
  return days.length === count ? days : null;
}

export function lastOf<Item>(items: readonly Item[]): Item {
  return items[items.length - 1]!;
}
