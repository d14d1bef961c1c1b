/** The closed list of what can be wrong with a season file. */
export type FaultCode =
  | 'not-a-season-file'
  | 'unknown-table'
  | 'not-a-table'
  | 'unknown-column'
  | 'missing-value'
  | 'wrong-kind'
  | 'bad-value'
  | 'wrong-order'
  | 'not-exactly-one'
  | 'duplicate-key'
  | 'overlap'
  | 'dangling-reference'
  /** Found between rows, by intake: */
  | 'unknown-zone'
  | 'cycle'
  | 'no-template'
  | 'not-possible'
  /** Missing in the file, though something published in the database refers to it; found only by an import. */
  | 'still-used';

/** One thing that is wrong in a season file, in words for the person who must mend it. */
export interface Fault {
  /** Name of the table; "" for the file itself. */
  readonly table: string;
  /** Number of the data row, the first one being 1; 0 when it is not about a row. */
  readonly row: number;
  /** Name of the column; "" when it is about the whole row. */
  readonly column: string;
  readonly value: unknown;
  readonly code: FaultCode;
  /** A whole sentence that says what is wrong. */
  readonly message: string;
  /** What would be right. */
  readonly expected: string;
}
