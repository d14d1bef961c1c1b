import { type CalendarPerson, invitation } from '../../../../libs/calendar/src/invitation.ts';
import { visitAlarmsMinBefore, visitSpan } from '../../../../libs/calendar/src/visit-span.ts';
import type { DeliveryWork } from '../../../../libs/data/src/delivery.repository.ts';
import type { MailMessage } from '../../../../libs/messages/src/mail-message.ts';
import type { StoredCrewMessage } from './stored-message.ts';
import { visitDays } from './visit-facts.ts';

/**
 * The calendar entry that goes with a message to one of the crew: the site days of that person, not those held back for weather.
 * Undefined for messages that bring none.
 */
export function crewInvitation(delivery: DeliveryWork, organizer: CalendarPerson): MailMessage['calendar'] {
  const stored = delivery.data as Partial<StoredCrewMessage>;
  const { calendar, visit, assignment } = stored;
  if (!calendar || !visit || !assignment || delivery.address === null) return undefined;
  const days = visitDays(visit, assignment).map(({ date, start, end }) => ({
    date: date as typeof visit.startDay,
    start,
    end,
  }));
  const calledOff = calendar.method === 'CANCEL';
  const span =
    days.length > 0 && !calledOff
      ? visitSpan(visit.site.zone, days)
      : {
          allDay: true as const,
          firstDay: stored.before?.from ?? assignment.fromDay,
          lastDay: stored.before?.to ?? assignment.toDay,
        };
  const content = invitation({
    method: calendar.method,
    event: {
      uid: calendar.uid,
      sequence: calendar.sequence,
      stampedAt: delivery.createdAt,
      span,
      summary: `${visit.title}, ${visit.site.name}`,
      location: visit.site.address ?? visit.site.name,
      geo: { latitudeDeg: visit.site.lat, longitudeDeg: visit.site.lon },
      alarmsMinBefore: visitAlarmsMinBefore(span),
    },
    organizer,
    attendee: { name: stored.person ?? delivery.address, mail: delivery.address },
  });
  return { method: calendar.method, content, filename: 'visit.ics' };
}
