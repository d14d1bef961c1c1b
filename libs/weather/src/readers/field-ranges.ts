import type { ValueColumn } from '../growing-record.ts';

/**
 * What a value of an hour can be at all. World records by the WMO archive of weather and climate extremes, rounded outwards: air -89.2
 * and 56.7 C, gust 113.3 m/s, rain in an hour 305 mm. Values beyond them are faults of the file, not weather.
 */
const RANGES: Record<ValueColumn, { low: number; high: number; unit: string }> = {
  tempC: { low: -90, high: 60, unit: 'C' },
  dewPointC: { low: -100, high: 40, unit: 'C' },
  rainMm: { low: 0, high: 310, unit: 'mm' },
  windMps: { low: 0, high: 115, unit: 'm/s' },
  gustMps: { low: 0, high: 115, unit: 'm/s' },
};

const WORDS: Record<ValueColumn, string> = {
  tempC: 'air temperature',
  dewPointC: 'dew point',
  rainMm: 'rain',
  windMps: 'mean wind',
  gustMps: 'gust',
};

/** Why a value cannot be one of this column, or null when it can; NaN, which is missing, always can. */
export function rangeFault(column: ValueColumn, value: number): string | null {
  const { low, high, unit } = RANGES[column];
  if (value < low && column === 'rainMm') return `rain is negative: ${shown(value)} mm`;
  if (value < low || value > high)
    return `${WORDS[column]} ${shown(value)} ${unit} is outside ${low} to ${high} ${unit}`;
  return null;
}

/** Rounding of either value, or of units before they were converted, may leave a gust this far below the mean wind. */
const ROUNDING_MPS = 0.55;

/** Why a gust and a mean wind contradict each other, or null. */
export function gustFault(windMps: number, gustMps: number): string | null {
  return gustMps < windMps - ROUNDING_MPS
    ? `the gust of ${shown(gustMps)} m/s is below the mean wind of ${shown(windMps)} m/s`
    : null;
}

function shown(value: number): string {
  return String(Number(value.toFixed(2)));
}
