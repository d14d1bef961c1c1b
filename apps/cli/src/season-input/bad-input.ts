import type { Fault } from '../../../../libs/contracts/src/index.ts';
import type { SheetFault } from '../../../../libs/documents/src/sheet-fault.ts';
import type { CommandAnswer } from '../commands/command.ts';
import { PlainError } from '../program/plain-error.ts';

export type InputFault = Fault | SheetFault;

/** A file that the user named cannot be used: what is wrong with it, all at once. */
export class BadInput extends Error {
  override readonly name = 'BadInput';
  readonly faults: readonly InputFault[];

  constructor(message: string, faults: readonly InputFault[] = []) {
    super(message);
    this.faults = faults;
  }
}

/** The answer of a command whose input cannot be used. Any other error is thrown on. */
export function badInputAnswer(error: unknown, exitCode: number): CommandAnswer {
  if (!(error instanceof BadInput) && !(error instanceof PlainError)) throw error;
  const faults = error instanceof BadInput ? error.faults : [];
  return {
    exitCode,
    facts: { outcome: 'bad-input', message: error.message, faults },
    lines: [error.message, ...faults.flatMap(faultLines)],
  };
}

/** A fault with its place as the user sees it: in a sheet by its own row numbers, in JSON by the row of the table. */
export function faultLines(fault: InputFault): string[] {
  const lines = ['', `${placeOf(fault)}: ${fault.message}`];
  if (!fault.message.includes(fault.expected)) lines.push(`  right would be: ${fault.expected}`);
  return lines;
}

function placeOf(fault: InputFault): string {
  const inSheet = 'sheet' in fault && fault.sheet !== '';
  const table = inSheet ? fault.sheet : fault.table;
  const row = inSheet ? fault.sheetRow : fault.row;
  const letter = inSheet && fault.columnLetter !== '' ? ` (column ${fault.columnLetter})` : '';
  const parts = [table, row > 0 ? `row ${row}` : '', fault.column === '' ? '' : `${fault.column}${letter}`];
  return parts.filter((part) => part !== '').join(', ') || 'the file';
}
