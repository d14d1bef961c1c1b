import type { VisitFacts } from '../../../../libs/data/src/visit-facts.ts';
import type { LocalDate } from '../../../../libs/kernel/src/index.ts';

/** Hours of a site day for which the season names none. Common practice, not a published figure. */
const USUAL_HOURS = 8;
/** When a season names no start of the working day. Common practice, not a published figure. */
export const USUAL_START = '08:00';

/** One site day in the wall time of the site. */
export interface SiteDayTimes {
  readonly date: LocalDate;
  /** `HH:MM`. */
  readonly start: string;
  readonly end: string;
  readonly outside: boolean;
}

/** The site days within two dates, both included, with their times. */
export function siteDayTimes(
  visit: Pick<VisitFacts, 'work'>,
  start: string,
  within: { readonly from: LocalDate; readonly to: LocalDate } | null = null,
): SiteDayTimes[] {
  return visit.work
    .filter(({ day }) => within === null || (day >= within.from && day <= within.to))
    .map(({ day, outside, hours }) => ({
      date: day,
      start,
      end: laterTime(start, (hours > 0 ? hours : USUAL_HOURS) * 60),
      outside,
    }));
}

/** `HH:MM` some minutes later, at most 23:59 of the same day. */
export function laterTime(time: string, min: number): string {
  const [hours = 0, minutes = 0] = time.split(':').map(Number);
  const total = Math.min(24 * 60 - 1, Math.round(hours * 60 + minutes + min));
  return `${String(Math.floor(total / 60)).padStart(2, '0')}:${String(total % 60).padStart(2, '0')}`;
}

const GROUND: Readonly<Record<string, string>> = {
  sealed: 'sealed surface',
  gravel: 'gravel',
  firmSoil: 'firm soil',
  softSoil: 'soft soil',
  sand: 'sand',
  rock: 'rock',
};

/** What a machine would stand on. Unknown is said, never left out. */
export function groundWords({ groundKind, slopePct }: VisitFacts['site']): string {
  const ground = GROUND[groundKind ?? ''] ?? 'not known yet; please ask before you choose the machine';
  return slopePct === null ? ground : `${ground}, slope ${slopePct} %`;
}

/** Power lines and other things in the way. Unknown is said, never left out. */
export function obstacleWords({ overheadLines, obstructions }: VisitFacts['site']): string {
  const lines =
    overheadLines === 'yes'
      ? 'There are power lines over or near the work.'
      : overheadLines === 'no'
        ? 'No power lines near the work, as far as we were told.'
        : 'Whether power lines are near the work is not known yet.';
  return obstructions ? `${lines} ${obstructions}` : lines;
}

/** A figure with its unit; an unknown one says so. */
export const known = (value: number | null, unit: string): string =>
  value === null ? 'not known yet; please ask before you choose the machine' : `${value} ${unit}`;
