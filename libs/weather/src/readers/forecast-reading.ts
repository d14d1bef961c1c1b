import type { Forecast } from '../hourly-record.ts';
import type { ReadingWarning } from './reading.ts';
import { type Measure, unitNamed } from './units.ts';

/** Why an answer of a forecast service cannot be used. */
export interface ForecastFault {
  readonly code: 'wrong-kind' | 'service-error' | 'wrong-unit' | 'bad-value' | 'no-hours';
  /** What it is and where, for the log and the person who looks after the source. */
  readonly words: string;
}

/** A forecast as read, with what it lacks. */
export interface ReadForecast {
  readonly forecast: Forecast;
  readonly warnings: readonly ReadingWarning[];
}

/** Thrown inside a reader of forecasts and turned into a refusal at its door; never leaves it. */
export class FaultFound extends Error {
  readonly fault: ForecastFault;
  constructor(code: ForecastFault['code'], words: string) {
    super(words);
    this.fault = { code, words };
  }
}

export type JsonObject = Readonly<Record<string, unknown>>;

/** A member that must be an object. */
export function objectAt(value: unknown, path: string): JsonObject {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as JsonObject;
  throw new FaultFound('wrong-kind', `${path} is ${kindOf(value)} where an object is expected`);
}

/** A member that must be an array. */
export function arrayAt(value: unknown, path: string): readonly unknown[] {
  if (Array.isArray(value)) return value;
  throw new FaultFound('wrong-kind', `${path} is ${kindOf(value)} where an array is expected`);
}

/** A member that must be a number within a range. */
export function numberAt(value: unknown, path: string, low = -1e9, high = 1e9): number {
  if (typeof value === 'number' && value >= low && value <= high) return value;
  throw new FaultFound(
    'wrong-kind',
    `${path} is ${kindOf(value)} where a number from ${low} to ${high} is expected`,
  );
}

/** A member that may be absent or null, which is NaN, but else must be a number. */
export function optionalNumber(value: unknown, path: string): number {
  return value === undefined || value === null ? Number.NaN : numberAt(value, path);
}

/** Turns a value into ours, for a unit as the document names it. A unit that is not named, or not known, is a fault. */
export function converter(unit: unknown, measure: Measure, path: string): (value: number) => number {
  const known = typeof unit === 'string' ? unitNamed(unit) : null;
  if (known === null || known.measure !== measure)
    throw new FaultFound(
      'wrong-unit',
      `the unit of ${path} is ${kindOf(unit)}, which is no unit of its kind`,
    );
  return known.toOurs;
}

/** How a value is shown in a fault. */
export function kindOf(value: unknown): string {
  if (value === undefined) return 'missing';
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'an array';
  if (typeof value === 'object') return 'an object';
  return JSON.stringify(value).slice(0, 60);
}

/** The larger of two values, either of which may be unknown; unknown only if both are. */
export function largerKnown(a: number, b: number): number {
  if (Number.isNaN(a)) return b;
  return Number.isNaN(b) ? a : Math.max(a, b);
}
