import type { SeasonFile } from '../../../contracts/src/index.ts';
import type { EquipmentUnit, LiftUnit, Warehouse } from '../../../season/src/problem.ts';
import { groupBy } from '../tables.ts';
import { type IntakeWarning, warning } from '../warning.ts';
import { dayMask, dayOfCell, type Horizon, inAnySpan, onWeekday } from './day-mask.ts';

/** The place id of a lift's depot; no key of the file holds a colon. */
export const depotPlaceId = (lift: string): string => `depot:${lift}`;

/** The lift units that can be hired, on the days on which they can be had. */
export function buildLifts(file: SeasonFile, horizon: Horizon): LiftUnit[] {
  const away = groupBy(file.liftUnavailable, (row) => row.lift);
  return file.lifts.map((lift) => {
    const isAway = inAnySpan(away.get(lift.key) ?? []);
    return {
      id: lift.key,
      name: lift.name,
      type: lift.type,
      depot: depotPlaceId(lift.key),
      rangeKm: lift.rangeKm,
      available: dayMask(horizon, (day) => !isAway(day)),
      mobiliseFixedCents: lift.mobiliseFixedCents,
      mobilisePerKmCents: lift.mobilisePerKmCents,
      dayCents: lift.dayCents,
      minDays: lift.minDays,
    };
  });
}

/** The own equipment; a unit that needs an inspection is usable only while one is known to hold. */
export function buildEquipment(
  file: SeasonFile,
  horizon: Horizon,
): { units: EquipmentUnit[]; warnings: IntakeWarning[] } {
  const away = groupBy(file.equipmentUnavailable, (row) => row.unit);
  const warnings: IntakeWarning[] = [];
  const units = file.equipmentUnits.map((unit) => {
    const isAway = inAnySpan(away.get(unit.key) ?? []);
    const until = unit.needsInspection
      ? unit.inspectedUntil
        ? dayOfCell(unit.inspectedUntil)
        : null
      : Number.POSITIVE_INFINITY;
    if (until === null) {
      const message = `${unit.name} needs an inspection and none is known, so it is planned nowhere. Enter until when the inspection holds.`;
      warnings.push(warning('inspection-unknown', 'equipmentUnits', unit.key, message));
    }
    return {
      id: unit.key,
      kind: unit.kind,
      name: unit.name,
      usable: dayMask(horizon, (day) => until !== null && day <= until && !isAway(day)),
    };
  });
  return { units, warnings };
}

/** The warehouses with the days on which goods can leave. */
export function buildWarehouses(file: SeasonFile, horizon: Horizon): Warehouse[] {
  const closed = groupBy(file.warehouseClosedDays, (row) => row.warehouse);
  return file.warehouses.map((warehouse) => {
    const isClosed = inAnySpan(closed.get(warehouse.key) ?? []);
    return {
      id: warehouse.key,
      bays: warehouse.bays,
      works: dayMask(horizon, (day) => onWeekday(warehouse.weekdays, day) && !isClosed(day)),
      bayDayCents: warehouse.bayDayCents,
      overflowBayDayCents: warehouse.overflowBayDayCents,
    };
  });
}
