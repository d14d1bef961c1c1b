import path from 'node:path';
import type { BadLine, HourlyRecord, Reading } from '../../../../libs/weather/src/index.ts';
import { type CommandInput, type OptionDefinitions, optionalText, UsageError } from '../commands/command.ts';
import { PlainError } from '../program/plain-error.ts';
import { readWeatherFile } from '../weather-io/read-weather-file.ts';
import { placeOf, zoneOf } from './window-options.ts';

export const RECORD_OPTIONS: OptionDefinitions = {
  'keep-good': { type: 'boolean' },
  place: { type: 'string' },
  zone: { type: 'string' },
  column: { type: 'string', multiple: true },
  'utc-offset-min': { type: 'string' },
};

export const RECORD_HELP: readonly string[] = [
  '  --keep-good             leave bad lines of the file out instead of refusing it',
  '  --place <lat,lon>       where a CSV file was recorded; an EPW file says so itself',
  '  --column <Header=field:unit>  a column of a CSV file by hand, as in "weather import"; may be given several times',
  '  --utc-offset-min <n>    the clock of times of a CSV file without an offset, minutes ahead of UTC all year;',
  '                          else they are read in --zone',
];

/** A file of hourly weather and what was found in it. */
export interface OpenedRecord {
  readonly file: string;
  readonly record: HourlyRecord;
  readonly reading: Reading;
  /** Null where neither the file nor the user says where it was recorded. */
  readonly place: { readonly lat: number; readonly lon: number } | null;
}

/** Reads the file line by line. Throws PlainError when it is none, or holds bad lines that nobody said to leave out. */
export async function openRecord(file: string, input: CommandInput): Promise<OpenedRecord> {
  const given = placeOf(input);
  const zone = zoneOf(input);
  const { column } = input.values;
  const columns = Array.isArray(column) ? column.map(String) : [];
  const utcOffsetMin = offsetOf(input);
  const { reading } = await readWeatherFile({
    file,
    format: 'auto',
    target: {
      name: path.basename(file),
      lat: given?.lat ?? Number.NaN,
      lon: given?.lon ?? Number.NaN,
      elevationM: null,
      source: null,
    },
    table: { columns, ...(zone ? { zone } : {}), ...(utcOffsetMin === null ? {} : { utcOffsetMin }) },
    keepGood: input.values['keep-good'] === true,
    say: input.say,
  });
  const { record } = reading;
  if (record === null) throw whyNot(file, reading);
  const place = Number.isNaN(record.place.lat) ? null : record.place;
  return { file, record, reading, place };
}

function offsetOf(input: CommandInput): number | null {
  const text = optionalText(input, 'utc-offset-min');
  if (text === undefined) return null;
  const value = Number(text);
  if (!/^-?\d+$/.test(text.trim()) || Math.abs(value) > 14 * 60)
    throw new UsageError(`--utc-offset-min is whole minutes from -840 to 840; got "${text}"`);
  return value;
}

function whyNot(file: string, { badLines, badLineCount, goodHours, warnings }: Reading): PlainError {
  const [first] = badLines;
  if (goodHours > 0 && first) {
    const shown = badLines.slice(0, 3).map(lineWords).join('; ');
    const more = badLineCount > 3 ? `; and ${badLineCount - 3} more` : '';
    const count = badLineCount === 1 ? 'one bad line' : `${badLineCount} bad lines`;
    return new PlainError(
      `${file} has ${count} beside ${goodHours} good hours (${shown}${more}). Mend the file, or say --keep-good to leave them out.`,
    );
  }
  const why = first ? lineWords(first) : (warnings[0]?.words ?? 'it holds no hour');
  return new PlainError(
    `${file} holds no hour of weather that can be read (${why}). Name an hourly EPW file, or a CSV file with times and units in its header.`,
  );
}

/** What does not print, as in a packed file, is no help to anybody. */
const UNPRINTABLE = /[\p{Cc}\p{Co}\uFFFD]/u;

function lineWords({ line, reason, value }: BadLine): string {
  return `line ${line}: ${reason}${value === undefined || UNPRINTABLE.test(value) ? '' : ` ("${value}")`}`;
}
