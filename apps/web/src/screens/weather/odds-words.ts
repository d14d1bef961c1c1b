import type { SeasonFile } from '../../../../../libs/contracts/src/index.ts';
import type { Schema } from '../../api/client.ts';
import { percent } from '../../words/brief-words.ts';

export type OddsCalendar = Schema<'OddsCalendar'>;
export type OddsRow = OddsCalendar['rows'][number];

/** What nobody knows is said to be unknown, never shown as zero. */
export const UNKNOWN = '? not known';

export const shareWords = (share: number | null): string => (share === null ? UNKNOWN : percent(share));

/** Days as a number with at most one decimal. */
export const daysWords = (days: number | null): string =>
  days === null ? UNKNOWN : String(Math.round(days * 10) / 10);

/** Share of good days around a date; what only its month would say is not known of the date. */
export const goodOf = (row: OddsRow): number | null => (row.knownDays === 0 ? null : row.shrunkGoodShare);

/** The interval in which the share lies 19 times out of 20; without known days there is none. */
export function rangeWords({ goodLow, goodHigh, knownDays }: OddsRow): string {
  return knownDays === 0 ? UNKNOWN : `${percent(goodLow)} to ${percent(goodHigh)}`;
}

export interface MonthOfOdds {
  readonly month: string;
  readonly rows: readonly OddsRow[];
  /** Mean over the dates that are known. */
  readonly goodShare: number | null;
  readonly lostMean: number | null;
}

/** The rows of a calendar month by month, in the order of the year. */
export function monthsOf(rows: readonly OddsRow[], nameOf: (monthAndDay: string) => string): MonthOfOdds[] {
  const names = [...new Set(rows.map(({ date }) => nameOf(date)))];
  return names.map((month) => {
    const own = rows.filter(({ date }) => nameOf(date) === month);
    return {
      month,
      rows: own,
      goodShare: meanOf(own.map(goodOf)),
      lostMean: meanOf(own.map(({ lostMean }) => lostMean)),
    };
  });
}

function meanOf(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
}

/** Whether any day of a job is known to be outside. A job whose template names none has nothing that weather could stop. */
export function isOutside(file: SeasonFile, job: SeasonFile['jobs'][number]): boolean {
  const kits = new Set(file.jobKits.filter((row) => row.job === job.key).map(({ kit }) => kit));
  const ofKits = file.kitTemplates.filter((row) => kits.has(row.kit) && row.visitKind === job.visitKind);
  const templates = new Set(job.template ? [job.template] : ofKits.map(({ template }) => template));
  return file.templateDays.some((day) => day.outside && templates.has(day.template));
}
