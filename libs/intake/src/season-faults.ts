import {
  canonicalRow,
  type Fault,
  type SeasonFile,
  type SeasonFileResult,
  type SeasonTableName,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
  validateSeasonFile,
} from '../../contracts/src/index.ts';
import { CHECKS } from './check-season-file.ts';

/**
 * Reads a season file through both doors: cells and references, and what only shows between rows. Answers with the season or with every
 * fault at once. A check between rows leaves out what it cannot judge: where a table that it reads has a fault already, it would only
 * repeat that one in other words.
 */
export function readSeasonFile(input: unknown): SeasonFileResult {
  const read = validateSeasonFile(input);
  const faults = read.ok
    ? faultsBetweenRows(read.value, [])
    : [...read.faults, ...faultsBetweenRows(input, read.faults)];
  return read.ok && faults.length === 0 ? read : { ok: false, faults };
}

/** A fault found before, by whatever reader; a table of "" is the file itself. */
export type KnownFault = Pick<Fault, 'table' | 'row' | 'column'>;

/** The faults between the rows of a file in whose tables `known` was found; none for what is no season file at all. */
export function faultsBetweenRows(input: unknown, known: readonly KnownFault[]): Fault[] {
  const file = asSeasonFile(input);
  if (!file) return [];
  const unsound = new Set(known.map(({ table }) => table));
  const isKnown = (fault: Fault): boolean =>
    known.some(
      (other) => other.table === fault.table && other.row === fault.row && other.column === fault.column,
    );
  return CHECKS.filter(({ reads }) => !reads.some((table) => unsound.has(table)))
    .flatMap(({ check }) => check(file))
    .filter((fault) => !isKnown(fault));
}

/** The rows as a season file has them, whatever is in their cells; null when there are no rows to look at. */
function asSeasonFile(input: unknown): SeasonFile | null {
  if (!isObject(input)) return null;
  const rowsOf = (name: SeasonTableName): object[] => {
    const rows = input[name];
    const columns = Object.keys(seasonTable(name).columns);
    return Array.isArray(rows) ? rows.map((row) => canonicalRow(isObject(row) ? row : {}, columns)) : [];
  };
  const head = isObject(input['season']) ? input['season'] : {};
  return {
    season: canonicalRow(head, Object.keys(seasonHeadTable.columns)),
    ...Object.fromEntries(seasonTableNames.map((name) => [name, rowsOf(name)])),
  } as unknown as SeasonFile;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
