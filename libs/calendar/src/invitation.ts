import { ICalAttendeeRole, ICalAttendeeStatus, ICalAttendeeType } from 'ical-generator';
import { DryspellError } from '../../kernel/src/index.ts';
import { addEvent, type CalendarEvent } from './calendar-event.ts';
import { cleanMailAddress, cleanName } from './clean-text.ts';
import { calendarText, newCalendar } from './write-calendar.ts';

export interface CalendarPerson {
  readonly name: string;
  readonly mail: string;
}

export interface InvitationParams {
  /** `REQUEST` invites or changes; `CANCEL` calls off and needs a higher sequence than every REQUEST before it. */
  readonly method: 'REQUEST' | 'CANCEL';
  readonly event: CalendarEvent;
  /** Whose mailbox the answers go to. */
  readonly organizer: CalendarPerson;
  /** The one who gets it. Nobody else is named in it. */
  readonly attendee: CalendarPerson;
}

/**
 * One invitation for one person, as RFC 5545 text with the METHOD that RFC 6047 wants in mail.
 * Throws `invalid-input` and the kernel's date and zone errors.
 */
export function invitation(params: InvitationParams): string {
  const { method, event, organizer, attendee } = params;
  const cancelled = method === 'CANCEL';
  if (cancelled && event.sequence < 1) {
    throw new DryspellError('invalid-input', { field: 'sequence', expected: 'at least 1 when calling off' });
  }
  if (event.status !== undefined && (event.status === 'CANCELLED') !== cancelled) {
    throw new DryspellError('invalid-input', {
      field: 'status',
      expected: 'CANCELLED with CANCEL, and only then',
    });
  }
  const sent: CalendarEvent = {
    ...event,
    status: cancelled ? 'CANCELLED' : (event.status ?? 'CONFIRMED'),
    alarmsMinBefore: cancelled ? [] : event.alarmsMinBefore,
  };
  const calendar = newCalendar({ method }, [sent]);
  const entry = addEvent(calendar, sent);
  const organizerMail = cleanMailAddress(organizer.mail, 'organizer.mail');
  entry.organizer({ name: cleanName(organizer.name) || organizerMail, email: organizerMail });
  const attendeeMail = cleanMailAddress(attendee.mail, 'attendee.mail');
  entry.createAttendee({
    name: cleanName(attendee.name) || attendeeMail,
    email: attendeeMail,
    role: ICalAttendeeRole.REQ,
    type: ICalAttendeeType.INDIVIDUAL,
    status: ICalAttendeeStatus.NEEDSACTION,
    rsvp: !cancelled,
  });
  return calendarText(calendar);
}
