import {
  type ICalCalendar,
  type ICalEvent,
  ICalEventStatus,
  ICalEventTransparency,
  type ICalLocation,
} from 'ical-generator';
import {
  addDays,
  DryspellError,
  type Instant,
  instantToLocal,
  type LocalDate,
  localToInstant,
  parseInstant,
  parseLocalDate,
} from '../../kernel/src/index.ts';
import { cleanLine, cleanText, cleanUrl } from './clean-text.ts';
import { asWritten } from './wall-time.ts';

/** Whole days, both included; no zone, so no reader can shift them. */
export interface AllDaySpan {
  readonly allDay: true;
  readonly firstDay: LocalDate;
  readonly lastDay: LocalDate;
}

/** From a wall time to a wall time of one IANA zone; times are `HH:MM` or `HH:MM:SS`. */
export interface TimedSpan {
  readonly allDay: false;
  readonly zone: string;
  readonly start: { readonly date: LocalDate; readonly time: string };
  readonly end: { readonly date: LocalDate; readonly time: string };
}

export type EventSpan = AllDaySpan | TimedSpan;

/** One entry in a calendar, without the people it concerns. */
export interface CalendarEvent {
  /** The same for as long as it is about the same thing, whatever changes: `name@domain`, printable ASCII. */
  readonly uid: string;
  /** 0 at first, higher with each change that people must hear of (RFC 5545 section 3.8.7.4). */
  readonly sequence: number;
  /** When this version was made. */
  readonly stampedAt: Instant;
  readonly span: EventSpan;
  readonly summary: string;
  readonly description?: string | undefined;
  readonly location?: string | undefined;
  /** Degrees, WGS 84. */
  readonly geo?: { readonly latitudeDeg: number; readonly longitudeDeg: number } | undefined;
  readonly url?: string | undefined;
  /** Minutes before the start (for whole days: before midnight of the first one) at which the reader is reminded. */
  readonly alarmsMinBefore?: readonly number[] | undefined;
  readonly status?: 'CONFIRMED' | 'TENTATIVE' | 'CANCELLED' | undefined;
}

/** The calendar years that an event touches in its own zone; undefined for whole days, which have none. */
export function yearsOf(span: EventSpan): { zone: string; first: number; last: number } | undefined {
  if (span.allDay) return undefined;
  return {
    zone: span.zone,
    first: Number(span.start.date.slice(0, 4)),
    last: Number(span.end.date.slice(0, 4)),
  };
}

/** Adds an event to a calendar. Throws `invalid-input`, `invalid-date` or `unknown-zone` before anything is added. */
export function addEvent(calendar: ICalCalendar, event: CalendarEvent): ICalEvent {
  if (!/^[\x21\x23-\x2b\x2d-\x39\x3c-\x5b\x5d-\x7e]{1,200}$/.test(event.uid)) {
    throw new DryspellError('invalid-input', {
      field: 'uid',
      expected: 'printable ASCII without blanks, quotes, ,;:\\',
    });
  }
  if (!Number.isInteger(event.sequence) || event.sequence < 0) {
    throw new DryspellError('invalid-input', { field: 'sequence', expected: 'a whole number from 0' });
  }
  const summary = cleanLine(event.summary);
  if (summary === '') throw new DryspellError('invalid-input', { field: 'summary', expected: 'some words' });
  const alarms = [...(event.alarmsMinBefore ?? [])];
  if (alarms.some((minutes) => !Number.isInteger(minutes) || minutes < 0)) {
    throw new DryspellError('invalid-input', { field: 'alarmsMinBefore', expected: 'whole minutes from 0' });
  }
  return calendar.createEvent({
    id: event.uid,
    sequence: event.sequence,
    stamp: new Date(parseInstant(event.stampedAt)),
    ...writtenSpan(event.span),
    summary,
    description: event.description ? cleanText(event.description) : null,
    location: locationOf(event),
    url: event.url === undefined ? null : cleanUrl(event.url, 'url'),
    status: event.status === undefined ? null : ICalEventStatus[event.status],
    transparency: ICalEventTransparency.OPAQUE,
    alarms: alarms.map((minutes) => ({ trigger: minutes * 60, description: summary })),
  });
}

function writtenSpan(span: EventSpan) {
  if (span.allDay) {
    const firstDay = parseLocalDate(span.firstDay);
    const lastDay = parseLocalDate(span.lastDay);
    if (lastDay < firstDay)
      throw new DryspellError('invalid-input', { field: 'span', expected: 'lastDay not before firstDay' });
    const midnight = (date: LocalDate) => asWritten(date, '00:00', parseInstant(`${date}T00:00:00Z`));
    // The end is exclusive (RFC 5545 section 3.6.1).
    return { allDay: true, start: midnight(firstDay), end: midnight(addDays(lastDay, 1)) };
  }
  const start = wallTime(span.zone, span.start);
  const end = wallTime(span.zone, span.end);
  if (end.instant <= start.instant)
    throw new DryspellError('invalid-input', { field: 'span', expected: 'an end after the start' });
  // Of a wall time that comes twice, readers take either one; an instant in UTC leaves no doubt.
  if (start.twice || end.twice) return { start: new Date(start.instant), end: new Date(end.instant) };
  return { timezone: span.zone, start: start.written, end: end.written };
}

function wallTime(zone: string, moment: { readonly date: LocalDate; readonly time: string }) {
  const { instant, found } = localToInstant({ ...moment, zone });
  // Readers disagree about a wall time that the clocks skip, so it is written as the time that they will really show.
  const { date, time } = found === 'gap' ? instantToLocal(instant, zone) : moment;
  return { instant, twice: found === 'overlap', written: asWritten(date, time, instant) };
}

function locationOf(event: CalendarEvent): ICalLocation | null {
  const title = event.location === undefined ? '' : cleanText(event.location).trim();
  if (event.geo === undefined) return title === '' ? null : { title };
  const { latitudeDeg, longitudeDeg } = event.geo;
  if (!(Math.abs(latitudeDeg) <= 90 && Math.abs(longitudeDeg) <= 180)) {
    throw new DryspellError('invalid-input', { field: 'geo', expected: 'degrees within 90 and 180' });
  }
  const geo = { lat: sixPlaces(latitudeDeg), lon: sixPlaces(longitudeDeg) };
  return title === '' ? { geo } : { title, geo };
}

/** Six places, as RFC 5545 section 3.8.1.6 advises. The writer leaves a zero out, so zero becomes the nearest value, 11 cm off. */
function sixPlaces(degrees: number): number {
  return Number(degrees.toFixed(6)) || 0.000001;
}
