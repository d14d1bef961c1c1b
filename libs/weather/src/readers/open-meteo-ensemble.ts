import { type Instant, ok, type Result, refused } from '../../../kernel/src/index.ts';
import { dewPointC } from '../dew-point.ts';
import { growingRecord } from '../growing-record.ts';
import type { HourlyRecord } from '../hourly-record.ts';
import { rangeFault } from './field-ranges.ts';
import {
  arrayAt,
  converter,
  FaultFound,
  type ForecastFault,
  type JsonObject,
  kindOf,
  largerKnown,
  numberAt,
  objectAt,
  optionalNumber,
  type ReadForecast,
} from './forecast-reading.ts';
import type { ReadingWarning } from './reading.ts';
import type { Measure } from './units.ts';

const MIN_MS = 60_000;
const HOUR_MS = 3_600_000;
/** WMO 4677 in the service's own selection: 95, 96 and 99 are thunderstorms. */
const THUNDER_FROM_CODE = 95;

const VARIABLES = {
  temperature_2m: 'temperature',
  dew_point_2m: 'temperature',
  relative_humidity_2m: 'share',
  precipitation: 'depth',
  wind_speed_10m: 'speed',
  wind_gusts_10m: 'speed',
  weather_code: null,
} as const satisfies Record<string, Measure | null>;
type Variable = keyof typeof VARIABLES;
const MEMBER_KEY = new RegExp(`^(${Object.keys(VARIABLES).join('|')})(?:_member(\\d{2,3}))?$`);

/**
 * Reads an answer of Open-Meteo's ensemble interface, or of its deterministic one (one member), asked with `hourly=` and one model.
 * Each variable without a suffix is the control run, those with `_memberNN` the others; all count as equally likely. By its
 * documentation rain is the sum and a gust the highest of the hour BEFORE the time stamp, wind and temperature are of that moment. So the
 * hour from T to T + 1 h has rain and gust of the stamp T + 1 h, the larger wind of both stamps, and the temperature of T; a
 * stamp without the next one makes no hour. Units are taken from `hourly_units`. The document names no time of issue: the caller says
 * when it was fetched.
 */
export function readOpenMeteoEnsemble(
  document: unknown,
  fetchedAt: Instant,
): Result<ReadForecast, ForecastFault> {
  try {
    return ok(read(document, fetchedAt));
  } catch (error) {
    if (error instanceof FaultFound) return refused(error.fault);
    throw error;
  }
}

type Columns = Map<Variable, readonly number[]>;

function read(document: unknown, issuedAt: Instant): ReadForecast {
  if (Array.isArray(document))
    throw new FaultFound('wrong-kind', 'it holds several places; ask for one place at a time');
  const root = objectAt(document, 'the document');
  if (root['error'] === true)
    throw new FaultFound('service-error', `the service says: ${kindOf(root['reason'])}`);
  const hourly = objectAt(root['hourly'], 'hourly');
  const units = objectAt(root['hourly_units'], 'hourly_units');
  const offsetMin = numberAt(root['utc_offset_seconds'] ?? 0, 'utc_offset_seconds', -64_800, 64_800) / 60;
  const stamps = arrayAt(hourly['time'], 'hourly.time').map((time, at) =>
    stampMs(time, units['time'], offsetMin, `hourly.time[${at}]`),
  );
  const members = membersOf(hourly, units, stamps.length);
  if (members.size === 0)
    throw new FaultFound(
      'wrong-kind',
      'hourly has none of the variables that are read; ask for wind_speed_10m and the like, of one model',
    );

  const head = {
    place: {
      name: '',
      lat: numberAt(root['latitude'], 'latitude', -90, 90),
      lon: numberAt(root['longitude'], 'longitude', -180, 180),
      elevationM: root['elevation'] === undefined ? null : numberAt(root['elevation'], 'elevation'),
    },
    source: 'Open-Meteo',
    // Stamps of places with half or quarter hours of offset lie between the full hours of UTC.
    standardOffsetMin: ((Math.round(offsetMin) % 60) + 60) % 60,
    typicalYear: false,
  };
  const records = [...members.entries()]
    .sort(([a], [b]) => a - b)
    .map(([member, columns]) => memberRecord(columns, stamps, head, member));
  if (records.every((record) => record.hourIndex.length === 0))
    throw new FaultFound('no-hours', 'no two time stamps follow each other by an hour');
  const warnings: ReadingWarning[] = [];
  if (records.every(({ gustMps }) => gustMps.every(Number.isNaN)))
    warnings.push({
      code: 'gust-missing',
      words: 'The forecast gives no gusts here; mean wind times a factor must stand in.',
    });
  if (records.every(({ rainMm }) => rainMm.every(Number.isNaN)))
    warnings.push({
      code: 'rain-missing',
      words: 'The forecast gives no rain here, so no hour can be called dry.',
    });
  return { forecast: { source: head.source, issuedAt, members: records }, warnings };
}

/** The variables of each member by number, the control run being 0, in our units. */
function membersOf(hourly: JsonObject, units: JsonObject, length: number): Map<number, Columns> {
  const members = new Map<number, Columns>();
  for (const [key, given] of Object.entries(hourly)) {
    const parts = MEMBER_KEY.exec(key);
    if (!parts) continue;
    const variable = parts[1] as Variable;
    const measure = VARIABLES[variable];
    const values = arrayAt(given, `hourly.${key}`);
    if (values.length !== length)
      throw new FaultFound('wrong-kind', `hourly.${key} has ${values.length} values for ${length} times`);
    const toOurs = measure === null ? Number : converter(units[key], measure, key);
    const member = Number(parts[2] ?? 0);
    const columns = members.get(member) ?? new Map();
    members.set(member, columns);
    columns.set(
      variable,
      values.map((value, at) => toOurs(optionalNumber(value, `hourly.${key}[${at}]`))),
    );
  }
  return members;
}

function memberRecord(
  columns: Columns,
  stamps: readonly number[],
  head: Parameters<ReturnType<typeof growingRecord>['finish']>[0],
  member: number,
): HourlyRecord {
  const growing = growingRecord();
  const at = (variable: Variable, index: number): number => columns.get(variable)?.[index] ?? Number.NaN;
  for (let index = 0; index + 1 < stamps.length; index += 1) {
    const start = stamps[index] as number;
    if (stamps[index + 1] !== start + HOUR_MS) continue;
    const tempC = at('temperature_2m', index);
    const dew = at('dew_point_2m', index);
    const code = largerKnown(at('weather_code', index), at('weather_code', index + 1));
    const values = {
      tempC,
      dewPointC: Number.isNaN(dew) ? dewPointC(tempC, at('relative_humidity_2m', index)) : dew,
      rainMm: at('precipitation', index + 1),
      windMps: largerKnown(at('wind_speed_10m', index), at('wind_speed_10m', index + 1)),
      gustMps: at('wind_gusts_10m', index + 1),
      thunder: Number.isNaN(code) ? null : code >= THUNDER_FROM_CODE,
    };
    for (const column of ['tempC', 'dewPointC', 'rainMm', 'windMps', 'gustMps'] as const) {
      const fault = rangeFault(column, values[column]);
      if (fault) throw new FaultFound('bad-value', `member ${member}, hourly.time[${index}]: ${fault}`);
    }
    growing.add(Math.floor((start / MIN_MS + head.standardOffsetMin) / 60), values);
  }
  return growing.finish(head).record;
}

/** UTC milliseconds of a time stamp, which the document gives on the clock of its offset. */
function stampMs(value: unknown, unit: unknown, offsetMin: number, path: string): number {
  if (unit === 'unixtime') return numberAt(value, path) * 1000;
  if (unit !== 'iso8601') throw new FaultFound('wrong-unit', `the unit of hourly.time is ${kindOf(unit)}`);
  const wallMs =
    typeof value === 'string' && /^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(value)
      ? Date.parse(`${value}:00Z`)
      : Number.NaN;
  if (Number.isNaN(wallMs))
    throw new FaultFound(
      'wrong-kind',
      `${path} is ${kindOf(value)} where a time such as 2026-07-20T11:00 is expected`,
    );
  return wallMs - offsetMin * MIN_MS;
}
