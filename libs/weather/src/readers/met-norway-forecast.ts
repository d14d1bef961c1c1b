import {
  type Instant,
  instantFromMs,
  instantToMs,
  ok,
  parseInstant,
  type Result,
  refused,
} from '../../../kernel/src/index.ts';
import { dewPointC } from '../dew-point.ts';
import { growingRecord } from '../growing-record.ts';
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

const HOUR_MS = 3_600_000;
/** From this chance on an hour counts as one with thunder: a cautious choice of ours, not of the service. */
const THUNDER_FROM_PCT = 10;

/**
 * Reads an answer of MET Norway's Locationforecast 2.0 (GeoJSON, `compact` or `complete`; its documentation: "General forecast JSON
 * format"). Only hours for which it gives the rain of that hour are there: the steps of six hours further out are not spread over
 * hours, so those hours are unknown. `next_1_hours` begins at its time stamp. Wind and gusts are given for moments: an hour takes
 * the larger of the values at its two ends. Dew point from humidity where it is not given. Thunder when the hour's symbol or a
 * chance of 10 % and more says so. Refuses documents of another kind, unknown units and values that weather cannot have.
 */
export function readMetNorwayForecast(document: unknown): Result<ReadForecast, ForecastFault> {
  try {
    return ok(read(document));
  } catch (error) {
    if (error instanceof FaultFound) return refused(error.fault);
    throw error;
  }
}

interface Step {
  readonly startMs: number;
  readonly tempC: number;
  readonly dewPointC: number;
  readonly windMps: number;
  readonly gustMps: number;
  readonly nextHour: JsonObject | null;
  readonly path: string;
}

function read(document: unknown): ReadForecast {
  const root = objectAt(document, 'the document');
  if (root['type'] !== 'Feature')
    throw new FaultFound('wrong-kind', `its type is ${kindOf(root['type'])} where "Feature" is expected`);
  const properties = objectAt(root['properties'], 'properties');
  const meta = objectAt(properties['meta'], 'properties.meta');
  const [lon, lat, elevationM] = arrayAt(
    objectAt(root['geometry'], 'geometry')['coordinates'],
    'coordinates',
  );
  const place = {
    name: '',
    lat: numberAt(lat, 'latitude', -90, 90),
    lon: numberAt(lon, 'longitude', -180, 180),
    elevationM: elevationM === undefined || elevationM === null ? null : numberAt(elevationM, 'elevation'),
  };
  const issuedAt = instantAt(meta['updated_at'], 'properties.meta.updated_at');
  const units = objectAt(meta['units'], 'properties.meta.units');
  const steps = arrayAt(properties['timeseries'], 'properties.timeseries')
    .map((entry, at) => readStep(entry, units, `timeseries[${at}]`))
    .sort((a, b) => a.startMs - b.startMs);

  const rain = steps.some((step) => step.nextHour)
    ? converter(units['precipitation_amount'], 'depth', 'precipitation_amount')
    : Number;
  const growing = growingRecord();
  let last = Number.NaN;
  steps.forEach((step, at) => {
    // Stamps between full hours, and the same stamp again, name no hour of ours.
    if (!step.nextHour || step.startMs % HOUR_MS !== 0 || step.startMs === last) return;
    last = step.startMs;
    const next = steps.find((other, index) => index > at && other.startMs === step.startMs + HOUR_MS);
    const details = objectAt(step.nextHour['details'] ?? {}, `${step.path} next_1_hours.details`);
    const values = {
      tempC: step.tempC,
      dewPointC: step.dewPointC,
      rainMm: rain(optionalNumber(details['precipitation_amount'], `${step.path} precipitation_amount`)),
      windMps: largerKnown(step.windMps, next?.windMps ?? Number.NaN),
      gustMps: largerKnown(step.gustMps, next?.gustMps ?? Number.NaN),
      thunder: thunderIn(step.nextHour, details, step.path),
    };
    for (const column of ['tempC', 'dewPointC', 'rainMm', 'windMps', 'gustMps'] as const) {
      const fault = rangeFault(column, values[column]);
      if (fault) throw new FaultFound('bad-value', `${step.path}: ${fault}`);
    }
    growing.add(step.startMs / HOUR_MS, values);
  });
  if (growing.length === 0)
    throw new FaultFound('no-hours', 'no step of the forecast has the rain of a single hour (next_1_hours)');
  const { record } = growing.finish({
    place,
    source: 'MET Norway Locationforecast 2.0',
    standardOffsetMin: 0,
    typicalYear: false,
  });
  const warnings: ReadingWarning[] = [];
  if (record.gustMps.every(Number.isNaN))
    warnings.push({
      code: 'gust-missing',
      words: 'The forecast gives no gusts here; mean wind times a factor must stand in.',
    });
  return { forecast: { source: record.source, issuedAt, members: [record] }, warnings };
}

function readStep(entry: unknown, units: JsonObject, path: string): Step {
  const step = objectAt(entry, path);
  const data = objectAt(step['data'], `${path}.data`);
  const details = objectAt(
    objectAt(data['instant'], `${path}.data.instant`)['details'],
    `${path} instant.details`,
  );
  const value = (name: string, measure: 'speed' | 'temperature' | 'share'): number => {
    const given = optionalNumber(details[name], `${path} ${name}`);
    return Number.isNaN(given) ? given : converter(units[name], measure, name)(given);
  };
  const tempC = value('air_temperature', 'temperature');
  const dew = value('dew_point_temperature', 'temperature');
  const nextHour = data['next_1_hours'];
  return {
    startMs: instantToMs(instantAt(step['time'], `${path}.time`)),
    tempC,
    dewPointC: Number.isNaN(dew) ? dewPointC(tempC, value('relative_humidity', 'share')) : dew,
    windMps: value('wind_speed', 'speed'),
    gustMps: value('wind_speed_of_gust', 'speed'),
    nextHour: nextHour === undefined || nextHour === null ? null : objectAt(nextHour, `${path} next_1_hours`),
    path,
  };
}

/** Null, which is unknown, where neither a symbol nor a chance is given. */
function thunderIn(nextHour: JsonObject, details: JsonObject, path: string): boolean | null {
  const summary = nextHour['summary'];
  const symbol =
    summary === undefined || summary === null
      ? undefined
      : objectAt(summary, `${path} summary`)['symbol_code'];
  if (typeof symbol === 'string' && symbol.includes('thunder')) return true;
  const chance = optionalNumber(details['probability_of_thunder'], `${path} probability_of_thunder`);
  if (!Number.isNaN(chance)) return chance >= THUNDER_FROM_PCT;
  return typeof symbol === 'string' ? false : null;
}

function instantAt(value: unknown, path: string): Instant {
  if (typeof value === 'string' && /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/.test(value)) {
    const epochMs = Date.parse(value);
    if (!Number.isNaN(epochMs) && instantFromMs(epochMs).startsWith(value.slice(0, 10)))
      return parseInstant(value);
  }
  throw new FaultFound(
    'wrong-kind',
    `${path} is ${kindOf(value)} where a time such as 2026-07-20T11:00:00Z is expected`,
  );
}
