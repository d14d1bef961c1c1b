import { DryspellError, type LocalDate } from '../../kernel/src/index.ts';
import type { EventSpan } from './calendar-event.ts';

/** One day of a visit, in the wall time of the site. */
export interface VisitDay {
  readonly date: LocalDate;
  /** `HH:MM`. */
  readonly start: string;
  readonly end: string;
}

/**
 * How a visit stands in a crew member's calendar: one day as an entry with times, several days as one entry over whole
 * days, first to last. One entry a visit, so one answer and one uid. Reasons: docs/decisions/0036.
 * Throws `invalid-input` without days or when they are not in order.
 */
export function visitSpan(zone: string, days: readonly VisitDay[]): EventSpan {
  const first = days[0];
  const last = days.at(-1);
  if (!first || !last)
    throw new DryspellError('invalid-input', { field: 'days', expected: 'at least one day' });
  if (days.some((day, index) => index > 0 && day.date <= (days[index - 1] as VisitDay).date)) {
    throw new DryspellError('invalid-input', { field: 'days', expected: 'days in order, each once' });
  }
  if (days.length > 1) return { allDay: true, firstDay: first.date, lastDay: last.date };
  return {
    allDay: false,
    zone,
    start: { date: first.date, time: first.start },
    end: { date: first.date, time: first.end },
  };
}

/** When the calendar reminds of a visit: 18:00 on the evening before whole days, twelve hours before a set time. */
export function visitAlarmsMinBefore(span: EventSpan): readonly number[] {
  return [span.allDay ? 6 * 60 : 12 * 60];
}

/** The uid of a person's place in a visit. It follows the assignment, not the dates, so a change finds its entry. */
export function assignmentUid(assignmentId: string, domain: string): string {
  return `assignment-${assignmentId}@${domain}`;
}
