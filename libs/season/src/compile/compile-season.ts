import { DryspellError } from '../../../kernel/src/index.ts';
import type { SeasonProblem } from '../problem.ts';
import type { CompiledSeason } from './compiled-season.ts';
import { compileJob } from './jobs.ts';
import { Presence } from './presence.ts';
import {
  compileCasuals,
  compileCrews,
  compileEquipment,
  compileLifts,
  compileWarehouses,
  Names,
} from './resources.ts';
import { compileSlots } from './slots.ts';

/**
 * Turns a season problem into flat tables. Throws `invalid-input` for what no plan could mend: a name that nothing
 * carries, a name twice, a mask or weather table that does not fit the horizon, a travel table that is not square.
 */
export function compileSeason(problem: SeasonProblem): CompiledSeason {
  const dayCount = problem.lastDay - problem.firstDay + 1;
  const { places: placeNames, driveMin, distanceKm } = problem.travel;
  const placeCount = placeNames.length;
  for (const table of [driveMin, distanceKm]) {
    if (table.length !== placeCount || table.some((row) => row.length !== placeCount)) {
      throw new DryspellError('invalid-input', {
        field: 'travel',
        value: table.length,
        expected: `${placeCount} rows and columns`,
      });
    }
  }
  if (!Number.isInteger(dayCount) || dayCount < 1 || dayCount > 2_000) {
    throw new DryspellError('invalid-input', {
      field: 'lastDay',
      value: problem.lastDay,
      expected: '1 to 2000 days of horizon',
    });
  }
  const places = new Names('place', placeNames);
  const liftTypes = new Names('lift type', [...new Set(problem.lifts.map((lift) => lift.type))]);
  const warehouseNames = new Names(
    'warehouse',
    problem.warehouses.map((warehouse) => warehouse.id),
  );
  checkNames(problem);

  const crews = compileCrews(problem, dayCount, places);
  const lifts = compileLifts(problem, dayCount, places, liftTypes);
  const equipment = compileEquipment(problem, dayCount);
  const jobs = problem.jobs.map((job) =>
    compileJob(job, { problem, dayCount, places, liftTypes, warehouses: warehouseNames, lifts, equipment }),
  );
  const presence = new Presence(problem, dayCount);
  const slots = compileSlots({ problem, dayCount, crews, jobs, lifts, equipment, presence });
  return {
    problem,
    dayCount,
    jobCount: jobs.length,
    crewCount: crews.length,
    placeCount,
    crews,
    jobs,
    lifts,
    equipment,
    casuals: compileCasuals(problem, places),
    warehouses: compileWarehouses(problem),
    slots,
    covers: presence.covers,
    km: Float64Array.from(distanceKm.flat()),
  };
}

function checkNames(problem: SeasonProblem): void {
  new Names(
    'job',
    problem.jobs.map((job) => job.id),
  );
  new Names(
    'lift',
    problem.lifts.map((lift) => lift.id),
  );
  new Names(
    'equipment unit',
    problem.equipment.map((unit) => unit.id),
  );
  new Names(
    'casual hand',
    problem.casualHands.map((hand) => hand.id),
  );
  const crews = new Names(
    'crew',
    problem.crews.map((crew) => crew.id),
  );
  const hands = new Names(
    'hand',
    problem.hands.map((hand) => hand.id),
  );
  for (const crew of problem.crews) for (const member of crew.members) hands.indexOf(member.hand);
  for (const job of problem.jobs) {
    if (job.pattern.length === 0) {
      throw new DryspellError('invalid-input', {
        field: 'pattern',
        value: job.id,
        expected: 'at least one site day',
      });
    }
    if (job.pin?.crew != null) crews.indexOf(job.pin.crew);
  }
}
