import { readXml } from './read-xml.ts';

/** Number formats that every workbook has and that show dates or times (ECMA-376 part 1, 18.8.30). */
const BUILT_IN: readonly (readonly [from: number, to: number])[] = [
  [14, 22],
  [27, 36],
  [45, 47],
  [50, 58],
  [71, 81],
];

/** For each cell style by its index, whether it shows a number as a date or time. */
export function readDateStyles(bytes: Uint8Array, part: string): boolean[] {
  const codes = new Map<number, string>();
  const formats: number[] = [];
  let inCellStyles = false;
  readXml(bytes, part, {
    open: (name, attribute) => {
      if (name === 'numFmt') codes.set(Number(attribute('numFmtId')), attribute('formatCode') ?? '');
      else if (name === 'cellXfs') inCellStyles = true;
      else if (name === 'xf' && inCellStyles) formats.push(Number(attribute('numFmtId') ?? 0));
    },
    close: (name) => {
      if (name === 'cellXfs') inCellStyles = false;
    },
  });
  return formats.map((format) => {
    const code = codes.get(format);
    if (code !== undefined) return isDateFormat(code);
    return BUILT_IN.some(([from, to]) => from <= format && format <= to);
  });
}

/** Whether a number format shows a date or time: it has a letter of one outside quotes, colours and escapes, and no digit place. */
export function isDateFormat(code: string): boolean {
  const bare = code
    .replace(/"[^"]*"/g, '')
    .replace(/[\\_*]./g, '')
    .replace(/\[(h+|m+|s+)\]/gi, '$1')
    .replace(/\[[^\]]*\]/g, '')
    .split(';')[0] as string;
  return /[ymdhs]/i.test(bare) && !/[#?]/.test(bare) && !/general/i.test(bare);
}
