import { DryspellError } from '../../../kernel/src/index.ts';
import type { DayMask, SeasonProblem } from '../problem.ts';
import type {
  CompiledCasual,
  CompiledCrew,
  CompiledLift,
  CompiledUnit,
  CompiledWarehouse,
} from './compiled-season.ts';

/** Looks up by name; an unknown name is a fault of the problem and is said at once. */
export class Names {
  private readonly kind: string;
  private readonly at = new Map<string, number>();

  constructor(kind: string, names: readonly string[]) {
    this.kind = kind;
    for (const [index, name] of names.entries()) {
      if (this.at.has(name))
        throw new DryspellError('invalid-input', { field: kind, value: name, expected: 'each name once' });
      this.at.set(name, index);
    }
  }

  indexOf(name: string): number {
    const index = this.at.get(name);
    if (index === undefined) {
      throw new DryspellError('invalid-input', {
        field: this.kind,
        value: name,
        expected: `a ${this.kind} of the problem`,
      });
    }
    return index;
  }
}

/** A mask as zeros and ones. Throws `invalid-input` if its length is not that of the horizon. */
export function maskDays(mask: DayMask, dayCount: number, field: string): Uint8Array {
  if (mask.length !== dayCount) {
    throw new DryspellError('invalid-input', { field, value: mask.length, expected: `${dayCount} days` });
  }
  return Uint8Array.from(mask, (day) => (day === '1' ? 1 : 0));
}

/** How many of the days before day d are open, for d = 0..dayCount. */
export function openBefore(open: Uint8Array): Int16Array {
  const before = new Int16Array(open.length + 1);
  for (let day = 0; day < open.length; day += 1) before[day + 1] = before[day]! + open[day]!;
  return before;
}

/** Whether each day from `from` to `to`, both included, is open. */
export function allOpen(before: Int16Array, from: number, to: number): boolean {
  return before[to + 1]! - before[from]! === to - from + 1;
}

export function compileCrews(problem: SeasonProblem, dayCount: number, places: Names): CompiledCrew[] {
  const { driveMin, distanceKm } = problem.travel;
  const count = driveMin.length;
  return problem.crews.map((crew) => {
    const travelDays = new Int16Array(count * count);
    const legCents = new Float64Array(count * count);
    for (let from = 0; from < count; from += 1) {
      for (let to = 0; to < count; to += 1) {
        const drive = driveMin[from]![to]!;
        const travel =
          drive <= crew.sameDayDriveMin ? 0 : Math.ceil((drive - crew.sameDayDriveMin) / crew.driveMinPerDay);
        travelDays[from * count + to] = travel;
        legCents[from * count + to] = distanceKm[from]![to]! * crew.perKmCents + travel * crew.dayCents;
      }
    }
    return {
      id: crew.id,
      base: places.indexOf(crew.base),
      nightCents: crew.heads * crew.nightPerHeadCents,
      maxNights: crew.maxNightsAway,
      works: maskDays(crew.works, dayCount, `works of ${crew.id}`),
      travelDays,
      legCents,
      dayCents: crew.dayCents,
      perKmCents: crew.perKmCents,
      standbyDayCents: crew.standbyDayCents,
    };
  });
}

export function compileLifts(
  problem: SeasonProblem,
  dayCount: number,
  places: Names,
  types: Names,
): CompiledLift[] {
  return problem.lifts.map((lift) => ({
    id: lift.id,
    type: types.indexOf(lift.type),
    depot: places.indexOf(lift.depot),
    dayCents: lift.dayCents,
    minDays: lift.minDays,
    fixedCents: lift.mobiliseFixedCents,
    perKmCents: lift.mobilisePerKmCents,
    availableBefore: openBefore(maskDays(lift.available, dayCount, `available of ${lift.id}`)),
  }));
}

export function compileEquipment(problem: SeasonProblem, dayCount: number): CompiledUnit[] {
  return problem.equipment.map((unit) => ({
    id: unit.id,
    kind: unit.kind,
    usableBefore: openBefore(maskDays(unit.usable, dayCount, `usable of ${unit.id}`)),
  }));
}

export function compileCasuals(problem: SeasonProblem, places: Names): CompiledCasual[] {
  return problem.casualHands.map((hand) => ({ id: hand.id, home: places.indexOf(hand.home) }));
}

export function compileWarehouses(problem: SeasonProblem): CompiledWarehouse[] {
  return problem.warehouses.map((warehouse) => ({
    id: warehouse.id,
    bays: warehouse.bays,
    bayDayCents: warehouse.bayDayCents,
    overflowCents: warehouse.overflowBayDayCents,
  }));
}
