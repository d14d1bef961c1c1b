import { isKnownZone } from '../../../../libs/kernel/src/index.ts';
import { type CommandInput, optionalText, UsageError } from '../commands/command.ts';

/** Hours of work on one day, in minutes after midnight. */
export interface Shift {
  readonly from: string;
  readonly to: string;
  readonly fromMin: number;
  readonly toMin: number;
}

export const DEFAULT_SHIFT = '08:00-18:00';

/** `--shift 08:00-18:00`. Throws UsageError for what is no shift within one day. */
export function shiftOf(input: CommandInput): Shift {
  const text = optionalText(input, 'shift') ?? DEFAULT_SHIFT;
  const parts = /^(\d{1,2}:\d{2})-(\d{1,2}:\d{2})$/.exec(text.trim());
  const [fromMin, toMin] = [minuteOf(parts?.[1]), minuteOf(parts?.[2])];
  // NaN compares false, so what is no time is refused too.
  if (!(fromMin < toMin))
    throw new UsageError(
      `--shift is the start and the end of work on one day, such as ${DEFAULT_SHIFT}; got "${text}"`,
    );
  return { from: clockText(fromMin), to: clockText(toMin), fromMin, toMin };
}

function minuteOf(text: string | undefined): number {
  const [hour, minute] = (text ?? '').split(':').map(Number) as [number, number];
  const all = hour * 60 + minute;
  return minute < 60 && all <= 1440 ? all : Number.NaN;
}

/** `HH:MM` of a minute after midnight. */
export function clockText(minute: number): string {
  return [Math.floor(minute / 60), minute % 60].map((part) => String(part).padStart(2, '0')).join(':');
}

/** A number within a range, or null when the option is left out. Throws UsageError for any other. */
export function measureOf(
  input: CommandInput,
  name: string,
  { least, most, unit }: { least: number; most: number; unit: string },
): number | null {
  const text = optionalText(input, name);
  if (text === undefined) return null;
  const value = Number(text);
  if (!/^\d+(\.\d+)?$/.test(text.trim()) || value < least || value > most)
    throw new UsageError(`--${name} is a number from ${least} to ${most} ${unit}; got "${text}"`);
  return value;
}

/** `--gust-factor`: gust = mean wind x this where the record has none. */
export function gustFactorOf(input: CommandInput, fallback: number): number {
  return measureOf(input, 'gust-factor', { least: 1, most: 4, unit: 'times the mean wind' }) ?? fallback;
}

/** `--zone`, or undefined. Throws UsageError for what is no time zone. */
export function zoneOf(input: CommandInput): string | undefined {
  const zone = optionalText(input, 'zone');
  if (zone !== undefined && !isKnownZone(zone))
    throw new UsageError(`--zone is a time zone such as America/Halifax; got "${zone}"`);
  return zone;
}

/** `--place 45.9,-64.3`, or null. Throws UsageError for what is no place on Earth. */
export function placeOf(input: CommandInput): { readonly lat: number; readonly lon: number } | null {
  const text = optionalText(input, 'place');
  if (text === undefined) return null;
  const parts = /^(-?\d+(?:\.\d+)?),\s*(-?\d+(?:\.\d+)?)$/.exec(text.trim());
  const [lat, lon] = [Number(parts?.[1]), Number(parts?.[2])];
  if (!parts || !(Math.abs(lat) <= 90 && Math.abs(lon) <= 180))
    throw new UsageError(`--place is latitude and longitude, such as 45.9,-64.3; got "${text}"`);
  return { lat, lon };
}
