import {
  addDays,
  addMinutes,
  type Instant,
  type LocalDate,
  localToInstant,
} from '../../../kernel/src/index.ts';
import { endOfDay } from '../moments.ts';
import type { VisitFacts } from '../visit-facts.ts';

/** The two briefs of a visit, as reminders are called. */
export const BRIEF_PURPOSES = ['brief-day-before', 'brief-on-the-day'] as const;
export type BriefPurpose = (typeof BRIEF_PURPOSES)[number];

/** What a season says of the hours of its days. */
export interface BriefHours {
  /** Local time of the site at which the brief of the day before goes out. */
  readonly briefTime?: string | null | undefined;
  readonly workdayStart?: string | null | undefined;
}

/** When a brief goes out, on the clocks of the site, and until when it still helps. */
export interface BriefTime {
  readonly purpose: BriefPurpose;
  readonly localDate: LocalDate;
  readonly localTime: string;
  readonly zone: string;
  readonly dueAt: Instant;
  readonly usefulUntil: Instant;
}

const USUAL_BRIEF_TIME = '16:00';
const ON_THE_DAY = '05:30';
const USUAL_START = '08:00';
/** After this the day has begun, or has not. */
const AFTER_START_MIN = 120;

/** The first outside day of a visit, which its briefs are about; null: all its work is inside. */
export function briefDay(visit: Pick<VisitFacts, 'work'>): LocalDate | null {
  return visit.work.find(({ outside }) => outside)?.day ?? null;
}

/**
 * The briefs about a day at a site: one the day before, useful until midnight, and one at 05:30 on the day, useful until two hours after the
 * start of the site day. A wall time that the clocks leave out is taken as the first one after it, of one that comes twice the first.
 */
export function briefTimes(day: LocalDate, zone: string, hours: BriefHours): BriefTime[] {
  const at = (localDate: LocalDate, time: string): Instant =>
    localToInstant({ date: localDate, time, zone }, { inGap: 'next-valid', inOverlap: 'first' }).instant;
  const before = addDays(day, -1);
  const briefTime = hours.briefTime ?? USUAL_BRIEF_TIME;
  return [
    {
      purpose: 'brief-day-before',
      localDate: before,
      localTime: briefTime,
      zone,
      dueAt: at(before, briefTime),
      usefulUntil: endOfDay(before, zone),
    },
    {
      purpose: 'brief-on-the-day',
      localDate: day,
      localTime: ON_THE_DAY,
      zone,
      dueAt: at(day, ON_THE_DAY),
      usefulUntil: addMinutes(at(day, hours.workdayStart ?? USUAL_START), AFTER_START_MIN),
    },
  ];
}
