/**
 * The exact optimum of small seasons by a mixed-integer programme in HiGHS; a yardstick for the planner that shares no code with it.
 * What a single visit may be and costs is asked of the independent checker, one visit at a time; what is left is written down here from
 * `libs/season/README.md`:
 *
 * - a column for each *tour* of a crew (its visits with their starts), its legs and nights; a crew is on one tour a day;
 * - for each visit one lift unit, one equipment unit of each kind, one set of casual hands; each is held by one visit a day, and equipment
 *   has time to travel between crews;
 * - a column for each *hire* of a lift unit (its visits in a row without a free day), two hires never touching;
 * - bays and overflow of each warehouse and day.
 *
 * Meant for up to 8 jobs, 2 crews, some 35 days and short tours. Without pins and frozen days. Casual hands: at most two for one visit.
 * Equipment is asked to have time to travel between *every* two visits of different crews, not only those that follow each other; with
 * distances on a plane that is the same.
 */
import highsModule from 'highs';
import type { Day } from '../../libs/kernel/src/index.ts';
import type { Crew, PlannedVisit, SeasonPlan, SeasonProblem } from '../../libs/season/src/index.ts';
import { lastOf, ownCentsOf, planWith, type VisitOption, visitOptions } from './exact-season-visits.ts';
import { LinearProgramme } from './linear-programme.ts';

/** The package is CommonJS to the type checker and a module to Node, where the default export is the function itself. */
const loadHighs = highsModule as unknown as typeof highsModule.default;

export interface ExactSeason {
  readonly plan: SeasonPlan;
  /** Optimal value of the programme; km are not rounded in it. */
  readonly objectiveCents: number;
  readonly columns: number;
  readonly seconds: number;
}

/** The optimum, or null when HiGHS does not reach it within the time limit. */
export async function exactSeason(problem: SeasonProblem, timeLimitS = 60): Promise<ExactSeason | null> {
  const options = visitOptions(problem);
  const lp = new LinearProgramme();
  let constant = 0;
  for (const job of problem.jobs) {
    const out = `out_${job.id}`;
    lp.binary(out, ownCentsOf(planWith(problem, []).costLines, job.id));
    lp.row(
      `job_${job.id}`,
      [[out, 1], ...options.filter((o) => o.job === job).map((o): [string, number] => [o.name, 1])],
      '=',
      1,
    );
  }
  for (const option of options) lp.binary(option.name, option.ownCents);
  addTours(lp, problem, options);
  addCovers(lp, options);
  addEquipment(lp, problem, options);
  addHires(lp, problem, options);
  constant += addBays(lp, problem, options);

  const highs = await loadHighs();
  const startedMs = performance.now();
  const solution = highs.solve(lp.text(), { time_limit: timeLimitS, mip_rel_gap: 0, mip_abs_gap: 0.5 });
  if (solution.Status !== 'Optimal') return null;
  const value = (name: string): number => {
    const column = solution.Columns[name.replaceAll('-', '.')];
    return column && 'Primal' in column ? Math.round(column.Primal as number) : 0;
  };
  const visits = options
    .filter((option) => value(option.name) === 1)
    .map((option) => chosenVisit(option, value));
  return {
    plan: planWith(
      problem,
      visits.sort((a, b) => a.days[0]! - b.days[0]!),
    ),
    objectiveCents: solution.ObjectiveValue + constant,
    columns: lp.columnCount,
    seconds: (performance.now() - startedMs) / 1000,
  };
}

function chosenVisit(option: VisitOption, value: (name: string) => number): PlannedVisit {
  const tour = [...toursOf.get(option)!].find((name) => value(name) === 1);
  return {
    ...option.visit,
    fromBase: tour === undefined || firstOf.get(tour) === option,
    casualHands: option.covers.find((_, at) => value(`${option.name}_c${at}`) === 1)?.hands ?? [],
    liftUnit: option.lifts.find((lift) => value(`${option.name}_l${lift.unit}`) === 1)?.unit ?? null,
    equipment: option.equipment.flatMap((units) =>
      units.filter((unit) => value(`${option.name}_e${unit}`) === 1),
    ),
  };
}

/** For each visit the tours that it is part of, and the first visit of each tour; filled while the programme is written. */
const toursOf = new WeakMap<VisitOption, Set<string>>();
const firstOf = new Map<string, VisitOption>();

function addTours(lp: LinearProgramme, problem: SeasonProblem, options: readonly VisitOption[]): void {
  firstOf.clear();
  for (const option of options) toursOf.set(option, new Set());
  for (const crew of problem.crews) {
    const own = options.filter((option) => option.crew === crew);
    const onDay = new Map<number, [string, number][]>();
    let count = 0;
    const place = (id: string): number => problem.travel.places.indexOf(id);
    const drive = (from: string, to: string): number => problem.travel.driveMin[place(from)]![place(to)]!;
    const travelDays = (from: string, to: string): number => {
      const min = drive(from, to);
      return min <= crew.sameDayDriveMin ? 0 : Math.ceil((min - crew.sameDayDriveMin) / crew.driveMinPerDay);
    };
    const legCents = (from: string, to: string): number =>
      crew.perKmCents * problem.travel.distanceKm[place(from)]![place(to)]! +
      crew.dayCents * travelDays(from, to);

    const extend = (tour: readonly VisitOption[], cents: number): void => {
      const first = tour[0]!;
      const last = lastOf(tour);
      const departure = first.visit.days[0]! - travelDays(crew.base, first.job.site);
      const back = last.release + travelDays(last.job.site, crew.base);
      if (departure < problem.firstDay || last.release - departure > crew.maxNightsAway) return;
      if (back <= problem.lastDay && back - departure <= crew.maxNightsAway) {
        const name = `t_${crew.id}_${count}`;
        count += 1;
        const nights = (back - departure) * crew.heads * crew.nightPerHeadCents;
        lp.binary(name, cents + legCents(last.job.site, crew.base) + nights);
        firstOf.set(name, first);
        for (const option of tour) toursOf.get(option)!.add(name);
        for (let day = departure; day <= back; day += 1) {
          if (!onDay.has(day)) onDay.set(day, []);
          onDay.get(day)!.push([name, 1]);
        }
      }
      for (const next of own) {
        if (tour.some((option) => option.job === next.job)) continue;
        if (next.visit.days[0]! < last.release + travelDays(last.job.site, next.job.site) + 1) continue;
        if (next.release - departure > crew.maxNightsAway) continue;
        extend([...tour, next], cents + legCents(last.job.site, next.job.site));
      }
    };
    for (const option of own) extend([option], legCents(crew.base, option.job.site));
    for (const [day, terms] of onDay) lp.row(`day_${crew.id}_${day}`, terms, '<=', 1);
    for (const option of own) {
      const terms = [...toursOf.get(option)!].map((name): [string, number] => [name, 1]);
      lp.row(`tour_${option.name}`, [...terms, [option.name, -1]], '=', 0);
    }
  }
}

/** One column a choice; the choices of a visit sum to the visit; each thing is held once a day. */
function addCovers(lp: LinearProgramme, options: readonly VisitOption[]): void {
  const held = new Map<string, [string, number][]>();
  for (const option of options) {
    const names = option.covers.map((cover, at) => {
      const name = `${option.name}_c${at}`;
      lp.binary(name, cover.cents);
      for (const hand of cover.hands) {
        for (let day = option.visit.days[0]!; day <= option.release; day = (day + 1) as Day) {
          hold(held, `${hand}_${day}`, name);
        }
      }
      return name;
    });
    lp.row(
      `cover_${option.name}`,
      [...names.map((name): [string, number] => [name, 1]), [option.name, -1]],
      '=',
      0,
    );
  }
  for (const [key, terms] of held) lp.row(`hand_${key}`, terms, '<=', 1);
}

function hold(held: Map<string, [string, number][]>, key: string, name: string): void {
  if (!held.has(key)) held.set(key, []);
  held.get(key)!.push([name, 1]);
}

function addEquipment(lp: LinearProgramme, problem: SeasonProblem, options: readonly VisitOption[]): void {
  const held = new Map<string, [string, number][]>();
  const users = new Map<string, { option: VisitOption; name: string }[]>();
  for (const option of options) {
    option.equipment.forEach((units, kind) => {
      const names = units.map((unit) => {
        const name = `${option.name}_e${unit}`;
        lp.binary(name, 0);
        for (let day = option.visit.days[0]!; day <= option.release; day = (day + 1) as Day)
          hold(held, `${unit}_${day}`, name);
        if (!users.has(unit)) users.set(unit, []);
        users.get(unit)!.push({ option, name });
        return name;
      });
      lp.row(
        `kit_${option.name}_${kind}`,
        [...names.map((name): [string, number] => [name, 1]), [option.name, -1]],
        '=',
        0,
      );
    });
  }
  for (const [key, terms] of held) lp.row(`unit_${key}`, terms, '<=', 1);
  let count = 0;
  for (const list of users.values()) {
    for (const first of list) {
      for (const job of problem.jobs) {
        const tooSoon = list.filter(
          ({ option }) =>
            option.job === job &&
            option.job !== first.option.job &&
            option.crew !== first.option.crew &&
            option.visit.days[0]! >= first.option.visit.days[0]! &&
            option.visit.days[0]! <
              first.option.release + daysBetween(problem, option.crew, first.option.job.site, job.site) + 1,
        );
        if (tooSoon.length === 0) continue;
        lp.row(
          `move_${count}`,
          [[first.name, 1], ...tooSoon.map(({ name }): [string, number] => [name, 1])],
          '<=',
          1,
        );
        count += 1;
      }
    }
  }
}

function daysBetween(problem: SeasonProblem, crew: Crew, from: string, to: string): number {
  const { places, driveMin } = problem.travel;
  const min = driveMin[places.indexOf(from)]![places.indexOf(to)]!;
  return min <= crew.sameDayDriveMin ? 0 : Math.ceil((min - crew.sameDayDriveMin) / crew.driveMinPerDay);
}

/** A hire is a column with its exact price. Hires of a unit neither overlap nor touch: touching ones are one hire. */
function addHires(lp: LinearProgramme, problem: SeasonProblem, options: readonly VisitOption[]): void {
  for (const lift of problem.lifts) {
    const uses = options.flatMap((option) =>
      option.lifts.filter((use) => use.unit === lift.id).map((use) => ({ option, ...use })),
    );
    const hiresOf = new Map<string, [string, number][]>();
    const held = new Map<string, [string, number][]>();
    let count = 0;
    const km = (from: string, to: string): number =>
      problem.travel.distanceKm[problem.travel.places.indexOf(from)]![problem.travel.places.indexOf(to)]!;
    const extend = (run: readonly (typeof uses)[number][], lengthKm: number): void => {
      const last = lastOf(run);
      const name = `h_${lift.id}_${count}`;
      count += 1;
      const days = last.paidTo - run[0]!.from + 1;
      const back = lengthKm + km(last.option.job.site, lift.depot);
      lp.binary(
        name,
        Math.round(lift.mobiliseFixedCents + lift.mobilisePerKmCents * back) +
          lift.dayCents * Math.max(lift.minDays, days),
      );
      for (const use of run) hold(hiresOf, use.option.name, name);
      // One day longer than held, so that two hires cannot touch.
      for (let day = run[0]!.from; day <= last.heldTo + 1; day = (day + 1) as Day) hold(held, `${day}`, name);
      for (const next of uses) {
        if (next.from !== last.heldTo + 1 || run.some((use) => use.option.job === next.option.job)) continue;
        extend([...run, next], lengthKm + km(last.option.job.site, next.option.job.site));
      }
    };
    for (const use of uses) extend([use], km(lift.depot, use.option.job.site));
    for (const [day, terms] of held) lp.row(`lift_${lift.id}_${day}`, terms, '<=', 1);
    for (const use of uses) {
      const name = `${use.option.name}_l${lift.id}`;
      lp.binary(name, use.standbyCents);
      lp.row(
        `hire_${use.option.name}_${lift.id}`,
        [...(hiresOf.get(use.option.name) ?? []), [name, -1]],
        '=',
        0,
      );
    }
  }
  for (const option of options) {
    if (!option.job.pattern.some((day) => day.liftType !== null)) continue;
    const terms = option.lifts.map((use): [string, number] => [`${option.name}_l${use.unit}`, 1]);
    lp.row(`needs_${option.name}`, [...terms, [option.name, -1]], '=', 0);
  }
}

/** Bays used less overflow at one rate, overflow at the other; gives the cents that no decision changes. */
function addBays(lp: LinearProgramme, problem: SeasonProblem, options: readonly VisitOption[]): number {
  let constant = 0;
  for (const warehouse of problem.warehouses) {
    for (let day = problem.firstDay; day <= problem.lastDay; day = (day + 1) as Day) {
      const here = problem.jobs.filter(
        (job) => job.goods?.warehouse === warehouse.id && job.goods.goodsFrom <= day,
      );
      const all = here.reduce((sum, job) => sum + job.goods!.bays, 0);
      if (all === 0) continue;
      // All of them stand here, less those that have left by then.
      const left = options.filter(
        (option) =>
          here.includes(option.job) && option.visit.deliveryDay! - option.job.goods!.deliveryLeadDays <= day,
      );
      constant += all * warehouse.bayDayCents;
      for (const option of left) lp.addCost(option.name, -option.job.goods!.bays * warehouse.bayDayCents);
      const over = `o_${warehouse.id}_${day}`;
      lp.continuous(over, warehouse.overflowBayDayCents - warehouse.bayDayCents);
      const terms = left.map((option): [string, number] => [option.name, option.job.goods!.bays]);
      lp.row(`bays_${warehouse.id}_${day}`, [[over, 1], ...terms], '>=', all - warehouse.bays);
    }
  }
  return constant;
}
