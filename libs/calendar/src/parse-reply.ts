import ICAL from 'ical.js';
import { DryspellError, type Instant, instantFromMs } from '../../kernel/src/index.ts';
import { cleanText } from './clean-text.ts';

const MAX_BYTES = 256 * 1024;
const MAX_LINES = 5_000;
const MAX_COMMENT = 1_000;

const ANSWERS = {
  ACCEPTED: 'accepted',
  DECLINED: 'declined',
  TENTATIVE: 'tentative',
  DELEGATED: 'delegated',
  'NEEDS-ACTION': 'none',
} as const;

/** What somebody answered to an invitation from a calendar program. */
export interface CalendarReply {
  readonly uid: string;
  /** The sequence that was answered; compare it with the present one before believing the answer. */
  readonly sequence: number;
  /** The address that answers, in lower case. Whoever reads the mailbox must check that the mail came from it. */
  readonly attendeeMail: string;
  readonly answer: (typeof ANSWERS)[keyof typeof ANSWERS];
  /** When the answer was made, by the sender's clock; null when not said. */
  readonly repliedAt: Instant | null;
  readonly comment: string | null;
}

/**
 * Reads an answer (METHOD:REPLY) to one invitation. Throws `too-large` for more than 256 KiB or 5,000 lines, and
 * `invalid-input` for whatever is not one answer of one person to one entry. Repetitions are not followed.
 */
export function parseReply(icsText: string): CalendarReply {
  // The length in UTF-16 units is never above the length in bytes, so the cheap test comes first.
  if (icsText.length > MAX_BYTES || Buffer.byteLength(icsText, 'utf8') > MAX_BYTES) {
    throw new DryspellError('too-large', { maxBytes: MAX_BYTES });
  }
  if (icsText.split('\n', MAX_LINES + 1).length > MAX_LINES)
    throw new DryspellError('too-large', { maxLines: MAX_LINES });

  const calendar = parsed(icsText);
  if (calendar.name !== 'vcalendar') throw wrong('a calendar');
  if (text(calendar, 'method')?.toUpperCase() !== 'REPLY') throw wrong('METHOD:REPLY');
  const events = calendar.getAllSubcomponents('vevent');
  const [event] = events;
  if (!event || events.length > 1) throw wrong('one VEVENT');

  const uid = text(event, 'uid');
  if (uid === null || uid === '' || uid.length > 255) throw wrong('a UID');
  if (event.getFirstProperty('recurrence-id') !== null) throw wrong('no RECURRENCE-ID');
  const attendees = event.getAllProperties('attendee');
  const [attendee] = attendees;
  // RFC 5546 allows exactly one in a REPLY.
  if (!attendee || attendees.length > 1) throw wrong('one ATTENDEE');
  const answer = partstat(attendee);
  return {
    uid,
    sequence: sequenceOf(event),
    attendeeMail: mailOf(attendee),
    answer,
    repliedAt: stampOf(event),
    comment: commentOf(event),
  };
}

function parsed(icsText: string): ICAL.Component {
  try {
    const jcal: unknown = ICAL.parse(icsText);
    // Two calendars in one text come back as a list of lists.
    if (!Array.isArray(jcal) || typeof jcal[0] !== 'string') throw new Error('not one calendar');
    return new ICAL.Component(jcal);
  } catch (cause) {
    throw new DryspellError(
      'invalid-input',
      { field: 'calendar reply', expected: 'one calendar (RFC 5545)' },
      cause,
    );
  }
}

function text(component: ICAL.Component, property: string): string | null {
  const value: unknown = guarded(() => component.getFirstPropertyValue(property));
  return typeof value === 'string' ? cleanText(value) : null;
}

function partstat(attendee: ICAL.Property): CalendarReply['answer'] {
  const value: unknown = attendee.getParameter('partstat');
  const key = typeof value === 'string' ? value.toUpperCase() : '';
  if (!Object.hasOwn(ANSWERS, key)) throw wrong('a PARTSTAT of RFC 5545');
  return ANSWERS[key as keyof typeof ANSWERS];
}

function mailOf(attendee: ICAL.Property): string {
  const value: unknown = guarded(() => attendee.getFirstValue());
  const address =
    typeof value === 'string' ? /^mailto:([^\s@<>,;:"]+@[^\s@<>,;:"]+)$/i.exec(value.trim())?.[1] : undefined;
  if (address === undefined || address.length > 254) throw wrong('an ATTENDEE with one mail address');
  return address.toLowerCase();
}

function sequenceOf(event: ICAL.Component): number {
  const value: unknown = guarded(() => event.getFirstPropertyValue('sequence'));
  // Some programs leave it out; by RFC 5545 section 3.8.7.4 it is then 0.
  if (value === null || value === undefined) return 0;
  if (typeof value !== 'number' || !Number.isInteger(value) || value < 0) throw wrong('a SEQUENCE from 0');
  return value;
}

function stampOf(event: ICAL.Component): Instant | null {
  const value: unknown = guarded(() => event.getFirstPropertyValue('dtstamp'));
  if (!(value instanceof ICAL.Time) || value.isDate || value.zone !== ICAL.Timezone.utcTimezone) return null;
  const seconds = value.toUnixTime();
  return Number.isFinite(seconds) ? guarded(() => instantFromMs(seconds * 1000)) : null;
}

function commentOf(event: ICAL.Component): string | null {
  const comment = text(event, 'comment')?.trim() ?? '';
  return comment === '' ? null : comment.slice(0, MAX_COMMENT);
}

/** Values are decoded when first read, so a broken one throws here and not in the parser. */
function guarded<Value>(read: () => Value): Value {
  try {
    return read();
  } catch (cause) {
    throw new DryspellError(
      'invalid-input',
      { field: 'calendar reply', expected: 'values as in RFC 5545' },
      cause,
    );
  }
}

function wrong(expected: string): DryspellError {
  return new DryspellError('invalid-input', { field: 'calendar reply', expected });
}
