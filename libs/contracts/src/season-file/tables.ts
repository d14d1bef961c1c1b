import { bookings } from './bookings.ts';
import { crewClosedDays, crewMembers, crews, vehicles } from './crews.ts';
import { contacts, customers, partners } from './customers.ts';
import { equipmentKinds, equipmentUnavailable, equipmentUnits } from './equipment.ts';
import { consignmentJobs, consignments, containers, deliveryRuns, milestones } from './freight.ts';
import { jobKits, jobs, readinessItems } from './jobs.ts';
import { kitParts, kits, kitTemplates } from './kits.ts';
import { liftHires, lifts, liftTypes, liftUnavailable } from './lifts.ts';
import { leave, people, ticketKinds, tickets } from './people.ts';
import { places, travelOverrides, warehouseClosedDays, warehouses } from './places.ts';
import { siteClosedDays, sites } from './sites.ts';
import { stepEquipment, stepPrecedence, steps, stepTickets } from './steps.ts';
import type { RowOf, SeasonTable } from './table.ts';
import {
  buildTemplates,
  readinessTemplates,
  templateDays,
  templateDayTickets,
  templateEquipment,
} from './templates.ts';
import { weatherAreas, weatherMonths, weatherStations } from './weather.ts';

/** Every table of the season file by name, in an order in which no row refers to a later table. */
export const seasonTables = {
  places,
  warehouses,
  warehouseClosedDays,
  weatherStations,
  weatherAreas,
  weatherMonths,
  ticketKinds,
  people,
  tickets,
  leave,
  crews,
  crewMembers,
  crewClosedDays,
  vehicles,
  customers,
  partners,
  sites,
  siteClosedDays,
  contacts,
  liftTypes,
  lifts,
  liftUnavailable,
  equipmentKinds,
  equipmentUnits,
  equipmentUnavailable,
  buildTemplates,
  templateDays,
  templateDayTickets,
  templateEquipment,
  readinessTemplates,
  steps,
  stepPrecedence,
  stepTickets,
  stepEquipment,
  kits,
  kitParts,
  kitTemplates,
  jobs,
  jobKits,
  readinessItems,
  consignments,
  consignmentJobs,
  containers,
  milestones,
  deliveryRuns,
  liftHires,
  bookings,
  travelOverrides,
} as const;

/** Tables that name places of one map: a key may be used in only one table of a group. */
export const sharedKeySpaces: readonly (readonly SeasonTableName[])[] = [['places', 'warehouses', 'sites']];

export type SeasonTables = typeof seasonTables;
export type SeasonTableName = keyof SeasonTables;

/** A row of the named table. */
export type SeasonRow<N extends SeasonTableName> = RowOf<SeasonTables[N]['columns']>;

export const seasonTableNames = Object.keys(seasonTables) as SeasonTableName[];

/** The description of one table, loosely typed for table-driven code. */
export function seasonTable(name: SeasonTableName): SeasonTable {
  return seasonTables[name] as unknown as SeasonTable;
}
