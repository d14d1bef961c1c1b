/** The problem by id, and the small questions that the rules ask of it. */
import type {
  CasualHand,
  Crew,
  DayMask,
  EquipmentUnit,
  Hand,
  Job,
  LiftUnit,
  PlaceId,
  SeasonProblem,
  Warehouse,
} from '../problem.ts';
import type { Findings } from './findings.ts';

export interface SeasonFacts {
  readonly problem: SeasonProblem;
  readonly jobs: ReadonlyMap<string, Job>;
  readonly crews: ReadonlyMap<string, Crew>;
  readonly hands: ReadonlyMap<string, Hand>;
  readonly casualHands: ReadonlyMap<string, CasualHand>;
  readonly lifts: ReadonlyMap<string, LiftUnit>;
  readonly equipment: ReadonlyMap<string, EquipmentUnit>;
  readonly warehouses: ReadonlyMap<string, Warehouse>;
  inHorizon(day: number): boolean;
  /** Whether a mask says '1' on a day; outside the horizon it says nothing, which is not '1'. */
  on(mask: DayMask, day: number): boolean;
  /** Kilometres from a place to another; NaN: not known. */
  km(from: PlaceId, to: PlaceId): number;
  /** Travel days of a crew from a place to another (`td` of the rules); NaN: not known. */
  travelDays(crew: Crew, from: PlaceId, to: PlaceId): number;
}

/** Looks the problem up by id; ids that clash or lead nowhere are findings of rule 0. */
export function seasonFacts(problem: SeasonProblem, findings: Findings): SeasonFacts {
  const places = new Map(problem.travel.places.map((place, index) => [place, index]));
  const entry = (table: readonly (readonly number[])[], from: PlaceId, to: PlaceId): number => {
    const row = places.get(from);
    const column = places.get(to);
    return row === undefined || column === undefined ? Number.NaN : (table[row]?.[column] ?? Number.NaN);
  };
  const facts: SeasonFacts = {
    problem,
    jobs: byId('job', problem.jobs, findings),
    crews: byId('crew', problem.crews, findings),
    hands: byId('hand', problem.hands, findings),
    casualHands: byId('casual hand', problem.casualHands, findings),
    lifts: byId('lift', problem.lifts, findings),
    equipment: byId('equipment unit', problem.equipment, findings),
    warehouses: byId('warehouse', problem.warehouses, findings),
    inHorizon: (day) => day >= problem.firstDay && day <= problem.lastDay,
    on: (mask, day) => mask[day - problem.firstDay] === '1',
    km: (from, to) => entry(problem.travel.distanceKm, from, to),
    travelDays: (crew, from, to) => {
      const driveMin = entry(problem.travel.driveMin, from, to);
      if (driveMin <= crew.sameDayDriveMin) return 0;
      return Math.ceil((driveMin - crew.sameDayDriveMin) / crew.driveMinPerDay);
    },
  };
  findDeadEnds(facts, places, findings);
  return facts;
}

function byId<Item extends { readonly id: string }>(
  noun: string,
  items: readonly Item[],
  findings: Findings,
): Map<string, Item> {
  const found = new Map<string, Item>();
  for (const item of items) {
    if (found.has(item.id)) {
      findings.add(0, 'problemDuplicateId', {}, `The problem has more than one ${noun} ${item.id}.`, {
        id: item.id,
      });
    } else found.set(item.id, item);
  }
  return found;
}

/** Names in the problem that lead nowhere: no plan of it can be checked for what depends on them. */
function findDeadEnds(facts: SeasonFacts, places: ReadonlyMap<PlaceId, number>, findings: Findings): void {
  const { problem } = facts;
  const missing = (owner: string, noun: string, id: string): void =>
    findings.add(
      0,
      'problemUnknownId',
      {},
      `The problem's ${owner} names the ${noun} ${id}, which it does not hold.`,
      { id },
    );
  const place = (owner: string, id: PlaceId): void => {
    if (!places.has(id)) missing(owner, 'place', id);
  };
  for (const job of problem.jobs) {
    const owner = `job ${job.id}`;
    place(owner, job.site);
    if (job.pattern.length === 0) {
      findings.add(
        0,
        'problemEmptyPattern',
        { job: job.id },
        `The problem's ${owner} has no site day in its pattern.`,
      );
    }
    if (job.goods && !facts.warehouses.has(job.goods.warehouse))
      missing(owner, 'warehouse', job.goods.warehouse);
    if (job.weatherTable !== null && !Object.hasOwn(problem.weatherTables, job.weatherTable)) {
      missing(owner, 'weather table', job.weatherTable);
    }
  }
  for (const crew of problem.crews) {
    place(`crew ${crew.id}`, crew.base);
    for (const member of crew.members) {
      if (!facts.hands.has(member.hand)) missing(`crew ${crew.id}`, 'hand', member.hand);
    }
  }
  for (const hand of problem.casualHands) place(`casual hand ${hand.id}`, hand.home);
  for (const lift of problem.lifts) place(`lift ${lift.id}`, lift.depot);
}
