import {
  columnsOf,
  type NamedColumn,
  type SeasonTable,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
} from '../../../libs/contracts/src/index.ts';

const KEYS: Record<string, string> = {
  places: 'yard',
  warehouses: 'shed',
  sites: 'hill',
  containers: 'CSQU3054383',
};
const keyOf = (table: string) => KEYS[table] ?? 'one';

/** Values for columns whose shape the kind alone does not tell. */
const BY_NAME: Record<string, string> = {
  email: 'one@example.org',
  phone: '+15065550100',
  phoneE164: '+15065550100',
  zone: 'America/St_Johns',
  language: 'fr-CA',
  currency: 'CAD',
  weekdays: '1111100',
  number: 'CSQU3054383',
};

function valueFor(table: string, column: NamedColumn): unknown {
  const [target] = column.refersTo;
  if (target) return keyOf(target);
  if (column.kind === 'text') {
    if (column.name === 'key') return keyOf(table);
    if (['part', 'step', 'before', 'after'].includes(column.name)) return 'one';
    return BY_NAME[column.name] ?? `Some ${column.name} — “é”`;
  }
  if (column.kind === 'choice') return column.choices?.at(-1);
  if (column.kind === 'boolean') return true;
  if (column.kind === 'date') return '2026-03-08';
  if (column.kind === 'time') return '02:30';
  if (column.kind === 'instant') return '2026-03-08T06:59:59Z';
  if (column.unit === 'cents') return 8_999_999_999_999;
  if (column.kind === 'integer') return Math.max(1, column.min ?? 0);
  return Math.min(column.max ?? 0, Math.max(0.1 + 0.2, column.min ?? 0));
}

function rowFor(table: SeasonTable): Record<string, unknown> {
  const row = Object.fromEntries(
    columnsOf(table).map((column) => [column.name, valueFor(table.name, column)]),
  );
  for (const group of table.exactlyOneOf) for (const name of group.slice(1)) delete row[name];
  return row;
}

/** A season file with one row in each table and a value in every cell that may have one. */
export function fullSeasonFile(): Record<string, unknown> {
  const tables = Object.fromEntries(seasonTableNames.map((name) => [name, [rowFor(seasonTable(name))]]));
  const head = rowFor(seasonHeadTable as unknown as SeasonTable);
  return { format: 'dryspell-season', formatVersion: 1, season: head, ...tables };
}
