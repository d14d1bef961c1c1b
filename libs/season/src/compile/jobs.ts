import { DryspellError } from '../../../kernel/src/index.ts';
import type { Job, SeasonProblem } from '../problem.ts';
import type { CompiledJob, CompiledLift, CompiledUnit } from './compiled-season.ts';
import { maskDays, type Names } from './resources.ts';

interface JobSurroundings {
  readonly problem: SeasonProblem;
  readonly dayCount: number;
  readonly places: Names;
  readonly liftTypes: Names;
  readonly warehouses: Names;
  readonly lifts: readonly CompiledLift[];
  readonly equipment: readonly CompiledUnit[];
}

/** Disturbance weight of a job with a published start: larger the nearer that is to `asOfDay` (README, line `moved`). */
export function disturbanceWeight(problem: SeasonProblem, publishedStart: number): number {
  const { nearFactor, nearDays } = problem.disturbance;
  return 1 + nearFactor * Math.min(1, Math.max(0, 1 - (publishedStart - problem.asOfDay) / nearDays));
}

/** Whether a job had a published start that is frozen now (rule 9). */
export function isFrozen(problem: SeasonProblem, job: Job): boolean {
  return problem.frozenUntil !== null && job.published !== null && job.published.start <= problem.frozenUntil;
}

export function compileJob(job: Job, around: JobSurroundings): CompiledJob {
  const { problem, dayCount, lifts, equipment } = around;
  const types = [...new Set(job.pattern.flatMap((day) => (day.liftType === null ? [] : [day.liftType])))];
  if (types.length > 1) {
    throw new DryspellError('invalid-input', {
      field: 'liftType',
      value: job.id,
      expected: 'one type of lift a job',
    });
  }
  // A type that no unit has leaves the job without any lift: it stays in the problem and is not planned.
  const known = types.length > 0 && problem.lifts.some((lift) => lift.type === types[0]);
  const liftType =
    types.length === 0 ? -1 : known ? around.liftTypes.indexOf(types[0]!) : Number.MAX_SAFE_INTEGER;
  const site = around.places.indexOf(job.site);
  const moved = job.published
    ? disturbanceWeight(problem, job.published.start) * problem.disturbance.movedCents
    : 0;
  return {
    id: job.id,
    site,
    siteDayCount: job.pattern.length,
    liftType,
    liftUnits: lifts.flatMap((lift, index) =>
      lift.type === liftType && problem.travel.distanceKm[lift.depot]![site]! <= problem.lifts[index]!.rangeKm
        ? [index]
        : [],
    ),
    equipmentChoices: job.equipmentKinds.map((kind) =>
      equipment.flatMap((unit, index) => (unit.kind === kind ? [index] : [])),
    ),
    warehouse: job.goods ? around.warehouses.indexOf(job.goods.warehouse) : -1,
    bays: job.goods?.bays ?? 0,
    bayFrom: job.goods ? Math.max(0, job.goods.goodsFrom - problem.firstDay) : dayCount,
    dispatch: dispatchDays(job, around),
    notPlannedCents: job.notPlannedCents + Math.round(moved),
    mandatory: job.pin !== null || isFrozen(problem, job),
    lostDays: weatherColumn(job, problem, dayCount, 'expectedLostDays'),
  };
}

/** A column of the job's weather table, one entry for each start day; zeros without a table. */
export function weatherColumn(
  job: Job,
  problem: SeasonProblem,
  dayCount: number,
  column: 'expectedLostDays' | 'reserveDays',
): Float64Array {
  if (job.weatherTable === null) return new Float64Array(dayCount);
  const table = problem.weatherTables[job.weatherTable];
  if (table?.[column].length !== dayCount) {
    throw new DryspellError('invalid-input', {
      field: 'weatherTable',
      value: job.weatherTable,
      expected: `a weather table of ${dayCount} days`,
    });
  }
  return Float64Array.from(table[column]);
}

/**
 * For each start day the earliest day on which the goods can be dispatched. Earlier is never dearer: the goods leave
 * their bays sooner, and nothing else of the cost reads the delivery.
 */
function dispatchDays(job: Job, around: JobSurroundings): Int16Array {
  const { problem, dayCount } = around;
  const goods = job.goods;
  if (!goods) return new Int16Array(0);
  const warehouse = problem.warehouses[around.warehouses.indexOf(goods.warehouse)]!;
  const works = maskDays(warehouse.works, dayCount, `works of ${warehouse.id}`);
  const closed = new Set(job.siteClosedDays.map((day) => day - problem.firstDay));
  const ready = job.siteReadyFrom - problem.firstDay;
  const goodsFrom = goods.goodsFrom - problem.firstDay;
  return Int16Array.from({ length: dayCount }, (_, start) => {
    const from = Math.max(
      ready,
      start - goods.siteStorageDays,
      goodsFrom + goods.deliveryLeadDays,
      goods.deliveryLeadDays,
    );
    for (let delivery = from; delivery <= start; delivery += 1) {
      const dispatch = delivery - goods.deliveryLeadDays;
      if (works[dispatch] && !closed.has(delivery)) return dispatch;
    }
    return -1;
  });
}
