import { count } from '../../format/counts.ts';
import { longDate } from '../../format/dates.ts';
import { dateAt } from '../../format/times.ts';
import type { WeatherImport } from './send-weather-file.ts';

/** `812 bytes`, `1.4 MB`. */
export function sizeWords(bytes: number): string {
  if (bytes < 1000) return count(bytes, 'byte');
  if (bytes < 1_000_000) return `${Math.round(bytes / 1000).toLocaleString('en-CA')} kB`;
  return `${(bytes / 1_000_000).toLocaleString('en-CA', { maximumFractionDigits: 1 })} MB`;
}

/** What a run stored, in sentences. */
export function resultWords(result: NonNullable<WeatherImport['result']>, zone: string): string[] {
  const { hours, added, changed, same, removed, from, to } = result;
  const day = (instant: string): string => longDate(dateAt(Date.parse(instant), zone));
  return [
    `${count(hours, 'hour')} read, from ${day(from)} to ${day(to)}.`,
    `${added.toLocaleString('en-CA')} added, ${changed.toLocaleString('en-CA')} changed, ${same.toLocaleString('en-CA')} the same as before.`,
    ...(removed > 0
      ? [
          `${count(removed, 'hour')} that were there before ${removed === 1 ? 'was' : 'were'} thrown away first.`,
        ]
      : []),
  ];
}

/** How far a file is read; null where that is not known. */
export function fractionOf({ state, bytesDone, bytesTotal }: WeatherImport): number | null {
  if (state !== 'running' || !bytesTotal) return null;
  return Math.min(1, bytesDone / bytesTotal);
}

/** Said aloud at each quarter, not with each line. */
export function spokenProgress(run: WeatherImport): string {
  switch (run.state) {
    case 'receiving':
      return 'The file is on its way.';
    case 'queued':
      return 'The file waits to be read.';
    case 'running':
      return `Reading: ${Math.floor((fractionOf(run) ?? 0) * 4) * 25} percent.`;
    case 'done':
      return `${run.fileName} is read in.`;
    default:
      return `${run.fileName} was not read in.`;
  }
}
