import { DryspellError } from '../../kernel/src/index.ts';
import { geodesicKm } from '../../travel/src/index.ts';
import {
  type CsvColumn,
  type CsvOptions,
  csvReader,
  epwReader,
  type LineReader,
  metarReader,
  type Reading,
} from '../../weather/src/index.ts';

/** What a reader must be told of a weather file. */
export interface WeatherFileFacts {
  /** `auto`: told from the first line that is not blank, which also knows METAR and SPECI reports. */
  readonly format: 'auto' | 'epw' | 'csv';
  /** The season's row that the record is for; its place stands where the file names none. */
  readonly target: RecordPlace;
  /** What a table of hours does not say itself. */
  readonly table?: TableFacts;
}

/** What can be said of a table of hours by hand. */
export interface TableFacts extends Pick<CsvOptions, 'stampIs' | 'dateOrder' | 'linesBeforeHeader'> {
  /** Columns as `Header=field:unit`, the unit left out where the header names it; then no other column is read. */
  readonly columns?: readonly string[];
  /** The clock of times without an offset: an IANA zone, or minutes ahead of UTC all year. */
  readonly zone?: string;
  readonly utcOffsetMin?: number;
}

/** Where a record is wanted. */
export interface RecordPlace {
  readonly name: string;
  readonly lat: number;
  readonly lon: number;
  readonly elevationM: number | null;
  /** Who keeps the record, as far as is known. */
  readonly source: string | null;
}

/** A reader that counts the lines it was given. */
export interface CountingReader extends LineReader {
  readonly lines: number;
}

/** The reader of a weather file. */
export function weatherFileReader(facts: WeatherFileFacts): CountingReader {
  let lines = 0;
  let chosen: LineReader | null = facts.format === 'auto' ? null : readerOf(facts.format, facts);
  const blank: string[] = [];
  return {
    get lines() {
      return lines;
    },
    line(text) {
      lines += 1;
      if (chosen === null) {
        blank.push(text);
        if (text.trim() === '') return;
        chosen = readerOf(formatOf(text), facts);
        for (const held of blank.splice(0)) chosen.line(held);
        return;
      }
      chosen.line(text);
    },
    finish: (policy) => (chosen ?? readerOf('csv', facts)).finish(policy),
  };
}

type Format = 'epw' | 'csv' | 'metar';

/** What the first line that is not blank begins. Reports may have the full time of an archive before them. */
function formatOf(firstLine: string): Format {
  if (/^\uFEFF?\s*LOCATION,/i.test(firstLine)) return 'epw';
  return /^\uFEFF?([\d:TZ-]+[\s,]+)?(METAR|SPECI) /.test(firstLine) ? 'metar' : 'csv';
}

function readerOf(format: Format, { target, table = {} }: WeatherFileFacts): LineReader {
  if (format === 'epw') return epwReader();
  const { name, lat, lon, elevationM, source } = target;
  if (format === 'metar')
    return metarReader({
      place: { name, lat, lon, elevationM },
      source: source ?? 'METAR reports',
      reference: null,
    });
  const { columns = [], zone, utcOffsetMin, ...rest } = table;
  return csvReader({
    ...rest,
    place: { name, lat, lon, elevationM },
    source: source ?? 'not stated',
    ...(columns.length === 0 ? {} : { columns: Object.fromEntries(columns.map(columnOf)) }),
    ...(utcOffsetMin !== undefined
      ? { clock: { offsetMin: utcOffsetMin } }
      : zone
        ? { clock: { zone } }
        : {}),
  });
}

const FIELDS: readonly CsvColumn['field'][] = [
  'time',
  'date',
  'timeOfDay',
  'tempC',
  'dewPointC',
  'rhPct',
  'rainMm',
  'windMps',
  'gustMps',
  'thunder',
];

/** `Wind Speed=windMps:km/h`. Throws `invalid-input` for what names no field. */
function columnOf(text: string): [string, CsvColumn] {
  const parts = /^(.+)=([A-Za-z]+)(?::(.+))?$/.exec(text);
  const field = FIELDS.find((known) => known === parts?.[2]);
  if (!parts || !field) {
    const expected = `Header=field or Header=field:unit, the field one of ${FIELDS.join(', ')}`;
    throw new DryspellError('invalid-input', { field: 'columns', value: text, expected });
  }
  return [parts[1] as string, parts[3] === undefined ? { field } : { field, unit: parts[3] }];
}

/** A record taken farther from where it is wanted hardly stands for it: common practice in the plains, far too far among hills. */
const FAR_KM = 30;

/** What should be seen before a record is used for a place. */
export function placeWarnings(
  recordedAt: { readonly lat: number; readonly lon: number },
  target: Pick<RecordPlace, 'name' | 'lat' | 'lon'>,
): { code: string; words: string }[] {
  const km = Math.round(geodesicKm(recordedAt, target));
  if (km <= FAR_KM) return [];
  const words = `The record is of a place ${km} km from ${target.name}; judge whether it stands for it.`;
  return [{ code: 'far-away', words }];
}

/** Why a reading gives no record, with the next step. */
export function whyNoRecord({ badLineCount, badLines, goodHours, warnings }: Reading): string {
  const [first] = badLines;
  if (first === undefined) return warnings[0]?.words ?? 'The file holds no hour that can be read.';
  const value = first.value === undefined ? '' : ` ("${first.value}")`;
  const where = `line ${first.line}: ${first.reason}${value}`;
  if (goodHours === 0) return `Nothing in the file can be read as hours of weather; ${where}.`;
  const count = badLineCount === 1 ? 'One line' : `${badLineCount} lines`;
  return `${count} cannot be read; the first is ${where}. Mend the file, or keep the ${goodHours} good hours and leave the bad lines out.`;
}
