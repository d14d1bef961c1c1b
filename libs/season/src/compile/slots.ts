import type { Job, SeasonProblem } from '../problem.ts';
import {
  barCode,
  type CompiledCrew,
  type CompiledJob,
  type CompiledLift,
  type CompiledUnit,
  type SlotBar,
  type SlotTables,
} from './compiled-season.ts';
import { disturbanceWeight, isFrozen, weatherColumn } from './jobs.ts';
import type { Presence } from './presence.ts';
import { allOpen } from './resources.ts';
import { type VisitDays, visitDays } from './visit-days.ts';

interface SlotSurroundings {
  readonly problem: SeasonProblem;
  readonly dayCount: number;
  readonly crews: readonly CompiledCrew[];
  readonly jobs: readonly CompiledJob[];
  readonly lifts: readonly CompiledLift[];
  readonly equipment: readonly CompiledUnit[];
  readonly presence: Presence;
}

/** Works out every slot: is it open, when does the visit end, what does it cost by itself. */
export function compileSlots(around: SlotSurroundings): SlotTables {
  const { problem, dayCount, crews, jobs } = around;
  const count = crews.length * jobs.length * dayCount;
  const tables: SlotTables = {
    bar: new Uint8Array(count),
    lastSiteDay: new Int16Array(count),
    release: new Int16Array(count),
    liftFrom: new Int16Array(count),
    liftPaidTo: new Int16Array(count),
    liftHeldTo: new Int16Array(count),
    ownCents: new Float64Array(count),
    cover: new Int32Array(count),
  };
  for (const [jobIndex, job] of problem.jobs.entries()) {
    const closed = new Set(job.siteClosedDays.map((day) => day - problem.firstDay));
    const reserve = weatherColumn(job, problem, dayCount, 'reserveDays');
    for (let crew = 0; crew < crews.length; crew += 1) {
      for (let start = 0; start < dayCount; start += 1) {
        const slot = (crew * jobs.length + jobIndex) * dayCount + start;
        const bar = fillSlot({
          around,
          tables,
          slot,
          job,
          jobIndex,
          crew,
          start,
          closed,
          reserveDays: reserve[start]!,
        });
        tables.bar[slot] = barCode(bar);
      }
    }
  }
  return tables;
}

interface SlotTask {
  readonly around: SlotSurroundings;
  readonly tables: SlotTables;
  readonly slot: number;
  readonly job: Job;
  readonly jobIndex: number;
  readonly crew: number;
  readonly start: number;
  readonly closed: ReadonlySet<number>;
  readonly reserveDays: number;
}

function fillSlot(task: SlotTask): SlotBar {
  const { around, tables, slot, job, jobIndex, crew, start, closed } = task;
  const { problem } = around;
  const compiled = around.jobs[jobIndex]!;
  const day = problem.firstDay + start;
  const crewId = problem.crews[crew]!.id;
  const fixed = fixedPlaceBar(problem, job, day, crewId);
  if (fixed) return fixed;
  if (day < job.siteReadyFrom) return 'siteReady';
  if (job.goods && day < job.goods.goodsFrom + job.goods.deliveryLeadDays) return 'goods';
  if (job.goods && compiled.dispatch[start]! < 0) return 'delivery';
  const days = visitDays(job, around.crews[crew]!.works, start, task.reserveDays);
  if (days === 'crewCalendar' || days === 'horizon') return days;
  if (days.chain.slice(0, job.pattern.length).some((siteDay) => closed.has(siteDay))) return 'siteClosed';

  const { chain, reserve } = days;
  const release = chain[chain.length - 1]!;
  tables.lastSiteDay[slot] = chain[job.pattern.length - 1]!;
  tables.release[slot] = release;
  const cover = around.presence.cover(crew, jobIndex, chain, job.pattern.length);
  if (typeof cover === 'string') return cover;
  tables.cover[slot] = cover;
  if (compiled.liftType >= 0 && !fillLiftSpan(task, days)) return 'lift';
  const equipped = compiled.equipmentChoices.every((units) =>
    units.some((unit) => allOpen(around.equipment[unit]!.usableBefore, start, release)),
  );
  if (!equipped) return 'equipment';
  tables.ownCents[slot] = ownCents(task, chain[chain.length - 1 - reserve]!);
  return 'open';
}

/** Rule 9: what a pin or the frozen days forbid. */
function fixedPlaceBar(problem: SeasonProblem, job: Job, day: number, crew: string): SlotBar | null {
  if (job.pin && ((job.pin.start ?? day) !== day || (job.pin.crew ?? crew) !== crew)) return 'pin';
  if (isFrozen(problem, job)) {
    return job.published!.start === day && job.published!.crew === crew ? null : 'frozen';
  }
  return problem.frozenUntil !== null && day <= problem.frozenUntil ? 'frozen' : null;
}

function fillLiftSpan(task: SlotTask, days: VisitDays): boolean {
  const { around, tables, slot, job, jobIndex } = task;
  const first = job.pattern.findIndex((siteDay) => siteDay.liftType !== null);
  const last = job.pattern.findLastIndex((siteDay) => siteDay.liftType !== null);
  const from = days.chain[first]!;
  const heldTo = days.chain[last + days.reserve]!;
  tables.liftFrom[slot] = from;
  tables.liftPaidTo[slot] = days.chain[last]!;
  tables.liftHeldTo[slot] = heldTo;
  return around.jobs[jobIndex]!.liftUnits.some((lift) =>
    allOpen(around.lifts[lift]!.availableBefore, from, heldTo),
  );
}

function ownCents(task: SlotTask, lastSiteDay: number): number {
  const { around, job, jobIndex, start } = task;
  const { problem } = around;
  const { lostDays, liftType } = around.jobs[jobIndex]!;
  const day = problem.firstDay + start;
  const late =
    job.promisedBy === null
      ? 0
      : Math.max(0, problem.firstDay + lastSiteDay - job.promisedBy) * job.lateCentsPerDay;
  const standby = liftType >= 0 ? 0 : Math.round(lostDays[start]! * around.crews[task.crew]!.standbyDayCents);
  if (!job.published) return late + standby;
  const { movedCents, movedPerDayCents, crewChangedCents } = problem.disturbance;
  const by = Math.abs(day - job.published.start);
  const weight = disturbanceWeight(problem, job.published.start);
  const moved = by === 0 ? 0 : Math.round((movedCents + movedPerDayCents * by) * weight);
  const changed = job.published.crew === problem.crews[task.crew]!.id ? 0 : crewChangedCents;
  return late + standby + moved + changed;
}
