import type { RawTable } from '../raw-table.ts';
import { UnreadableSheet } from '../sheet-fault.ts';
import type { SheetLimits } from '../sheet-limits.ts';
import { readSheet } from './read-sheet.ts';
import { readSharedStrings } from './read-strings.ts';
import { readDateStyles } from './read-styles.ts';
import { partBytes, workbookParts } from './workbook-parts.ts';
import { ZipPackage } from './zip-package.ts';

const WORKBOOK = 'an .xlsx workbook (ECMA-376); in a spreadsheet program choose "Excel workbook" when saving';

/**
 * All worksheets of an .xlsx workbook as plain cells. Formulas count with the value that the program which saved the
 * workbook worked out. Throws `UnreadableSheet` for what is no such workbook or is too large; sizes are checked before
 * anything is unpacked.
 */
export function readWorkbook(bytes: Uint8Array, limits: SheetLimits): RawTable[] {
  if (bytes.length > limits.fileBytes) {
    const message = `The workbook has ${bytes.length} bytes.`;
    throw new UnreadableSheet('too-large', message, `at most ${limits.fileBytes} bytes`);
  }
  refuseOtherFormats(bytes);
  const zip = new ZipPackage(bytes, limits);
  if (zip.has('mimetype') && new TextDecoder().decode(zip.read('mimetype')).includes('opendocument')) {
    throw new UnreadableSheet('cannot-be-read', 'The file is an OpenDocument file.', WORKBOOK);
  }
  const parts = workbookParts(zip);
  if (parts.sheets.length > limits.sheets) {
    const message = `The workbook has ${parts.sheets.length} sheets.`;
    throw new UnreadableSheet('too-large', message, `at most ${limits.sheets} sheets`);
  }
  const sharedStrings = parts.sharedStrings
    ? readSharedStrings(partBytes(zip, parts.sharedStrings), parts.sharedStrings)
    : [];
  const dateStyles = parts.styles ? readDateStyles(partBytes(zip, parts.styles), parts.styles) : [];
  let cellCount = 0;
  const countCell = (): void => {
    cellCount += 1;
    if (cellCount > limits.cells) {
      const message = `The workbook has more than ${limits.cells} cells that hold something.`;
      throw new UnreadableSheet('too-large', message, `at most ${limits.cells} cells`);
    }
  };
  return parts.sheets.map(({ name, part }) => {
    const context = {
      sheet: name,
      part,
      sharedStrings,
      dateStyles,
      epochShiftDays: parts.epochShiftDays,
      countCell,
    };
    const { rows, merged } = readSheet(partBytes(zip, part), context);
    if (rows.length > limits.rows) {
      const message = `The sheet ${name} has ${rows.length} rows.`;
      throw new UnreadableSheet('too-large', message, `at most ${limits.rows} rows`, name);
    }
    return { name, from: 'workbook', rows, merged, decimalComma: false };
  });
}

function refuseOtherFormats(bytes: Uint8Array): void {
  const starts = (...signature: number[]): boolean => signature.every((byte, index) => bytes[index] === byte);
  if (bytes.length === 0) throw new UnreadableSheet('cannot-be-read', 'The file is empty.', WORKBOOK);
  if (starts(0xd0, 0xcf, 0x11, 0xe0)) {
    // A protected workbook is the older container with the encrypted one inside.
    const isProtected = Buffer.from(bytes).includes(Buffer.from('EncryptedPackage', 'utf16le'));
    const message = isProtected
      ? 'The workbook is protected by a password.'
      : 'The file is in the older .xls format, or a document of another kind.';
    throw new UnreadableSheet(
      'cannot-be-read',
      message,
      isProtected ? 'a workbook without a password' : WORKBOOK,
    );
  }
  if (!starts(0x50, 0x4b))
    throw new UnreadableSheet('cannot-be-read', 'The file is no .xlsx workbook.', WORKBOOK);
}
