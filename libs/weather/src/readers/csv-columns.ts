import type { ValueColumn } from '../growing-record.ts';
import { type Measure, type Unit, unitNamed } from './units.ts';

/** What a column of a table can hold. `time` is date and time in one cell; `date` and `timeOfDay` are two columns. */
export type CsvField = ValueColumn | 'rhPct' | 'thunder' | 'time' | 'date' | 'timeOfDay';

/** What is said of one column by hand. */
export interface CsvColumn {
  readonly field: CsvField;
  /** Such as `km/h`; needed where the field has a unit and the header does not name it. */
  readonly unit?: string;
  /** Cells that mean "not known", beside the usual ones. */
  readonly missing?: readonly string[];
}

/** A column as it will be read. */
export interface PlannedColumn {
  readonly at: number;
  readonly header: string;
  readonly field: CsvField;
  readonly unit: Unit | null;
  readonly missing: ReadonlySet<string>;
}

export interface ColumnPlan {
  readonly columns: readonly PlannedColumn[];
  readonly ignored: readonly string[];
  /** The header of the time says UTC. */
  readonly timeIsUtc: boolean;
}

const MEASURES: Partial<Record<CsvField, Measure>> = {
  windMps: 'speed',
  gustMps: 'speed',
  rainMm: 'depth',
  tempC: 'temperature',
  dewPointC: 'temperature',
  rhPct: 'share',
};

/** Names of columns in lower case, without the words that add nothing (`NOISE`). */
const NAMES: Readonly<Record<CsvField, string>> = {
  windMps: 'wind|windspeed|wspd|ws|ff|wind spd',
  gustMps: 'gust|gusts|wind gust|wind gusts|windgust|windgusts|max gust|maximum gust|peak gust|wind gust max',
  rainMm: 'rain|rainfall|precip|precipitation|prcp',
  tempC: 'temp|temperature|t|tair|dry bulb|drybulb|ta',
  dewPointC: 'dew point|dewpoint|dew|td|dew point temperature|dewpoint temperature|dew point temp|dew temp',
  rhPct: 'rh|humidity|relative humidity|rhum|relhum|rel hum',
  thunder: 'thunder|thunderstorm|lightning',
  time: 'time|timestamp|datetime|date time|valid|valid time|observation time|obs time|local time|time local|date and time',
  date: 'date|day',
  timeOfDay: 'hour|time of day',
};
const FIELD_OF_NAME = new Map(
  Object.entries(NAMES).flatMap(([field, names]) =>
    names.split('|').map((name) => [name, field as CsvField] as const),
  ),
);
const NOISE = new Set([
  '2m',
  '10m',
  'hourly',
  'air',
  'avg',
  'average',
  'mean',
  'speed',
  'total',
  'amount',
  'sum',
  'utc',
  'gmt',
]);

/** Which column holds what, from the header row and what was said by hand; a text says why it cannot be known. */
export function planColumns(
  headers: readonly string[],
  byHand: Readonly<Record<string, CsvColumn>> = {},
): ColumnPlan | string {
  const unknown = Object.keys(byHand).find((header) => !headers.includes(header));
  if (unknown !== undefined) return `there is no column "${unknown}"; the columns are ${headers.join(', ')}`;
  const columns: PlannedColumn[] = [];
  const ignored: string[] = [];
  let timeIsUtc = false;
  for (const [at, header] of headers.entries()) {
    const said = Object.hasOwn(byHand, header) ? byHand[header] : undefined;
    const read = readHeader(header);
    const field = said?.field ?? (Object.keys(byHand).length > 0 ? null : read.field);
    if (field === null) {
      if (header !== '') ignored.push(header);
      continue;
    }
    const twice = columns.find((column) => column.field === field);
    if (twice)
      return `the columns "${twice.header}" and "${header}" both look like ${field}; say which one to read`;
    const measure = MEASURES[field];
    const unit = said?.unit === undefined ? read.unit : unitNamed(said.unit);
    if (measure && unit?.measure !== measure) {
      const named = said?.unit ?? read.unitText;
      return named === null || named === undefined
        ? `the column "${header}" does not say its unit; write it into the header, such as "${header} (${EXAMPLES[measure]})", or name it`
        : `"${named}" of the column "${header}" is no unit of ${field}`;
    }
    if (field === 'time' || field === 'date') timeIsUtc ||= /\b(utc|gmt)\b/i.test(header.replace(/_/g, ' '));
    columns.push({ at, header, field, unit: measure ? unit : null, missing: new Set(said?.missing ?? []) });
  }
  return withTimes(columns, headers, ignored, timeIsUtc);
}

const EXAMPLES: Readonly<Record<Measure, string>> = {
  speed: 'm/s',
  temperature: 'C',
  depth: 'mm',
  share: '%',
};

/** A lone date holds the time too; a date beside a time are the two halves of it. */
function withTimes(
  columns: readonly PlannedColumn[],
  headers: readonly string[],
  ignored: readonly string[],
  timeIsUtc: boolean,
): ColumnPlan | string {
  const has = (field: CsvField): boolean => columns.some((column) => column.field === field);
  const renamed = columns.map((column): PlannedColumn => {
    if (column.field === 'time' && has('date') && !has('timeOfDay')) return { ...column, field: 'timeOfDay' };
    if (column.field === 'date' && !has('time') && !has('timeOfDay')) return { ...column, field: 'time' };
    return column;
  });
  const fields = new Set(renamed.map(({ field }) => field));
  if (!fields.has('time') && !(fields.has('date') && fields.has('timeOfDay')))
    return `no column holds the time; the columns are ${headers.join(', ')}`;
  if (![...fields].some((field) => field in MEASURES || field === 'thunder'))
    return `no column holds weather that is read; the columns are ${headers.join(', ')}`;
  return { columns: renamed, ignored, timeIsUtc };
}

/** `wind_speed (m/s)`, `gust_kmh`, `temp [F]`, `windMps`: what it is, and its unit where it says one. */
function readHeader(header: string): { field: CsvField | null; unit: Unit | null; unitText: string | null } {
  const bracket = /[([]([^)\]]*)[)\]]\s*$/.exec(header);
  const words = (bracket ? header.slice(0, bracket.index) : header)
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[\s_.-]+/)
    .filter((word) => word !== '');
  let unitText = bracket?.[1] ?? null;
  let unit = unitText === null ? null : unitNamed(unitText);
  if (unit === null) {
    // A unit as the last word, or as the last two where the stroke was left out: `gust_kmh`, `wind m s`.
    for (const count of [1, 2]) {
      if (words.length <= count) continue;
      const text = words.slice(-count).join('/');
      const found = unitNamed(text);
      if (!found) continue;
      unit = found;
      unitText = text;
      words.splice(-count);
      break;
    }
  }
  const name = words.filter((word) => !NOISE.has(word)).join(' ');
  const field = FIELD_OF_NAME.get(name) ?? (words.includes('utc') && name === '' ? 'time' : null);
  return { field, unit, unitText };
}
