import type { CalendarEvent } from '../../../../libs/calendar/src/calendar-event.ts';
import { visitAlarmsMinBefore, visitSpan } from '../../../../libs/calendar/src/visit-span.ts';
import type { Feed, FeedVisit } from '../../../../libs/data/src/listing/feed-visits.ts';

const KINDS: Readonly<Record<string, string>> = {
  survey: 'Survey',
  build: 'Build',
  return: 'Return visit',
  service: 'Service',
};

/** The entries of a calendar to follow. They name no people: whoever holds the address sees places and days only. */
export function feedEvents(feed: Feed): CalendarEvent[] {
  return feed.visits.flatMap(({ facts, changedAt }) => {
    const own =
      feed.person === null ? null : facts.assignments.find(({ person }) => person.key === feed.person);
    if (facts.work.length === 0) return [];
    const span = visitSpan(
      facts.site.zone,
      facts.work.map(({ day, hours }) => ({
        date: day,
        start: feed.workdayStart,
        end: endOf(feed.workdayStart, hours),
      })),
    );
    return [
      {
        uid: own?.icalUid ?? facts.uid,
        sequence: own?.icalSequence ?? facts.sequence,
        stampedAt: changedAt,
        span,
        summary: `${KINDS[facts.job.visitKind] ?? 'Visit'}: ${facts.job.title}`,
        description: descriptionOf(feed, facts),
        location: [facts.site.name, facts.site.address].filter(Boolean).join(', '),
        geo: { latitudeDeg: facts.site.lat, longitudeDeg: facts.site.lon },
        status: own?.state === 'asked' ? 'TENTATIVE' : 'CONFIRMED',
        ...(own ? { alarmsMinBefore: visitAlarmsMinBefore(span) } : {}),
      } satisfies CalendarEvent,
    ];
  });
}

function descriptionOf(feed: Feed, facts: FeedVisit['facts']): string {
  const days = facts.work.map((day) => `${day.day}: ${day.outside ? 'outside' : 'inside'}, ${day.hours} h`);
  return [
    ...days,
    facts.reserveDays.length > 0 ? `Held back for weather: ${facts.reserveDays.join(', ')}` : '',
    'Planning aid only: the manufacturer, the site’s own assessment and local law come first.',
    feed.isDemo ? 'Demonstration: all names are invented.' : '',
  ]
    .filter((line) => line !== '')
    .join('\n');
}

/** The wall time some hours later, at most the last minute of the day. */
function endOf(start: string, hours: number): string {
  const [hour = 8, minute = 0] = start.split(':').map(Number);
  const endMin = Math.min(hour * 60 + minute + Math.max(15, Math.round(hours * 60)), 23 * 60 + 59);
  return `${String(Math.floor(endMin / 60)).padStart(2, '0')}:${String(endMin % 60).padStart(2, '0')}`;
}
