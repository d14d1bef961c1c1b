import ical, { escape as escapeText, type ICalCalendar, ICalCalendarMethod } from 'ical-generator';
import { type CalendarEvent, yearsOf } from './calendar-event.ts';
import { cleanLine } from './clean-text.ts';
import { zoneDefinition } from './zone-definition.ts';

const PRODUCT = { company: 'Dryspell', product: 'Season planning', language: 'EN' };

export interface CalendarParams {
  readonly method?: 'REQUEST' | 'CANCEL';
  /** Shown by readers as the name of the calendar. */
  readonly name?: string;
  /** How often a reader that follows the calendar should look again. */
  readonly refreshMin?: number;
}

/** An empty calendar that will hold one zone definition for each zone among the events, true for all their years. */
export function newCalendar(params: CalendarParams, events: readonly CalendarEvent[]): ICalCalendar {
  const years = new Map<string, { first: number; last: number }>();
  for (const { span } of events) {
    const touched = yearsOf(span);
    if (!touched) continue;
    const before = years.get(touched.zone) ?? touched;
    years.set(touched.zone, {
      first: Math.min(before.first, touched.first),
      last: Math.max(before.last, touched.last),
    });
  }
  return ical({
    prodId: PRODUCT,
    method: params.method === undefined ? null : ICalCalendarMethod[params.method],
    // The writer escapes event texts, not this one.
    name: params.name === undefined ? null : escapeText(cleanLine(params.name), false),
    ttl: params.refreshMin === undefined ? null : params.refreshMin * 60,
    scale: 'gregorian',
    timezone: {
      // No name: with one, the writer would put the time stamps into that zone, and they must be UTC.
      name: null,
      generator: (zone) => {
        const range = years.get(zone);
        return range ? zoneDefinition(zone, range.first, range.last) : null;
      },
    },
  });
}

/** The calendar as text: lines of at most 75 octets, each ended with CRLF (RFC 5545 section 3.1). */
export function calendarText(calendar: ICalCalendar): string {
  return `${calendar.toString()}\r\n`;
}
