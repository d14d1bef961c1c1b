import {
  columnsOf,
  type NamedColumn,
  type SeasonTable,
  type SeasonTableName,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
} from '../../contracts/src/index.ts';
import { addDays, type LocalDate } from '../../kernel/src/index.ts';
import type { Tx } from './database.ts';

/** A row in the words of the season file. */
export type FileRow = Record<string, string | number | boolean>;
/** A row as Prisma reads and writes it. */
export type DatabaseRow = Record<string, unknown>;

/** What all models of season tables have in common; Prisma's own types differ from table to table. */
export interface SeasonDelegate {
  findMany(query: object): Promise<DatabaseRow[]>;
  findFirst(query: object): Promise<DatabaseRow | null>;
  create(query: object): Promise<DatabaseRow>;
  createMany(query: object): Promise<{ count: number }>;
  update(query: object): Promise<DatabaseRow>;
  updateMany(query: object): Promise<{ count: number }>;
  deleteMany(query: object): Promise<{ count: number }>;
}

const MODELS = {
  places: 'place',
  warehouses: 'warehouse',
  warehouseClosedDays: 'warehouseClosedDays',
  weatherStations: 'weatherStation',
  weatherAreas: 'weatherArea',
  weatherMonths: 'weatherMonth',
  ticketKinds: 'ticketKind',
  people: 'person',
  tickets: 'ticket',
  leave: 'leave',
  crews: 'crew',
  crewMembers: 'crewMember',
  crewClosedDays: 'crewClosedDays',
  vehicles: 'vehicle',
  customers: 'customer',
  partners: 'partner',
  sites: 'site',
  siteClosedDays: 'siteClosedDays',
  contacts: 'contact',
  liftTypes: 'liftType',
  lifts: 'lift',
  liftUnavailable: 'liftUnavailable',
  equipmentKinds: 'equipmentKind',
  equipmentUnits: 'equipmentUnit',
  equipmentUnavailable: 'equipmentUnavailable',
  buildTemplates: 'buildTemplate',
  templateDays: 'templateDay',
  templateDayTickets: 'templateDayTicket',
  templateEquipment: 'templateEquipment',
  readinessTemplates: 'readinessTemplate',
  steps: 'step',
  stepPrecedence: 'stepPrecedence',
  stepTickets: 'stepTicket',
  stepEquipment: 'stepEquipment',
  kits: 'kit',
  kitParts: 'kitPart',
  kitTemplates: 'kitTemplate',
  jobs: 'job',
  jobKits: 'jobKit',
  readinessItems: 'readinessItem',
  consignments: 'consignment',
  consignmentJobs: 'consignmentJob',
  containers: 'container',
  milestones: 'milestone',
  deliveryRuns: 'deliveryRun',
  liftHires: 'liftHire',
  bookings: 'booking',
  travelOverrides: 'travelOverride',
} as const satisfies Record<SeasonTableName, keyof Tx>;

/** The Prisma model of a season table. */
export function delegateOf(tx: Tx, table: SeasonTableName): SeasonDelegate {
  return tx[MODELS[table]] as unknown as SeasonDelegate;
}

const COLUMNS = new Map<string, readonly NamedColumn[]>(
  seasonTableNames.map((name) => [name, columnsOf(seasonTable(name))]),
);
COLUMNS.set('season', columnsOf(seasonHeadTable as unknown as SeasonTable));

/** The columns of a season table, or of the head of the file (`season`). */
export function columnsOfTable(table: SeasonTableName | 'season'): readonly NamedColumn[] {
  return COLUMNS.get(table) as readonly NamedColumn[];
}

/** A row of the file as the database keeps it: every column, empty ones as null. */
export function toDatabaseRow(
  table: SeasonTableName | 'season',
  row: Readonly<Record<string, unknown>>,
): DatabaseRow {
  const cells = columnsOfTable(table).map((column) => [
    column.name,
    toDatabaseValue(column, row[column.name]),
  ]);
  return Object.fromEntries(cells);
}

/** A row of the database in the words of the file: empty cells left out, columns in the order of the file. */
export function toFileRow(table: SeasonTableName | 'season', row: DatabaseRow): FileRow {
  const cells = columnsOfTable(table)
    .filter((column) => row[column.name] !== null && row[column.name] !== undefined)
    .map((column) => [column.name, toFileValue(column, row[column.name])]);
  return Object.fromEntries(cells);
}

/** Text of the natural key of a row, such as `template/2`; the same for equal keys only within a table. */
export function keyTextOf(table: SeasonTable, row: Readonly<Record<string, unknown>>): string {
  return table.key.map((name) => String(row[name] ?? '')).join('/');
}

/** Where-clause of one row by its natural key. */
export function whereKey(table: SeasonTableName, values: Readonly<Record<string, unknown>>): DatabaseRow {
  const columns = columnsOfTable(table).filter((column) => seasonTable(table).key.includes(column.name));
  return Object.fromEntries(
    columns.map((column) => [column.name, toDatabaseValue(column, values[column.name])]),
  );
}

function toDatabaseValue(column: NamedColumn, value: unknown): unknown {
  if (value === null || value === undefined) return null;
  if (column.kind === 'date') return dateToDatabase(value as LocalDate);
  if (column.kind === 'instant') return new Date(value as string);
  return column.unit === 'cents' ? BigInt(value as number) : value;
}

function toFileValue(column: NamedColumn, value: unknown): string | number | boolean {
  if (column.kind === 'date') return dateFromDatabase(value as Date);
  // The file keeps moments to the second.
  if (column.kind === 'instant') return (value as Date).toISOString().replace(/\.\d{3}Z$/, 'Z');
  return typeof value === 'bigint' ? Number(value) : (value as string | number | boolean);
}

/** Prisma reads and writes a `date` as midnight in UTC. */
export function dateToDatabase(date: LocalDate): Date {
  return new Date(`${date}T00:00:00.000Z`);
}

export function dateFromDatabase(value: Date): LocalDate {
  return addDays(value.toISOString().slice(0, 10) as LocalDate, 0);
}
