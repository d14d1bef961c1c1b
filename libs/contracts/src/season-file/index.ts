export { validateSeasonRow } from './check-row.ts';
export type { Column, ColumnKind, Columns } from './column.ts';
export type { Fault, FaultCode } from './fault.ts';
export { milestoneKinds } from './freight.ts';
export { season as seasonHeadTable } from './season.ts';
export {
  canonicalRow,
  canonicalSeasonFile,
  type SeasonFile,
  type SeasonHead,
  seasonFileFormat,
  seasonFileJsonSchema,
  seasonFileSchema,
  seasonFileVersion,
} from './season-file.ts';
export { columnsOf, type NamedColumn, type RowOf, type SeasonTable, type TableReference } from './table.ts';
export {
  type SeasonRow,
  type SeasonTableName,
  type SeasonTables,
  seasonTable,
  seasonTableNames,
  seasonTables,
  sharedKeySpaces,
} from './tables.ts';
export { visitKinds } from './templates.ts';
export { type SeasonFileResult, validateSeasonFile } from './validate.ts';
