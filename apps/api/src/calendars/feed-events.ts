import type { CalendarEvent } from '../../../../libs/calendar/src/calendar-event.ts';
import { visitAlarmsMinBefore, visitSpan } from '../../../../libs/calendar/src/visit-span.ts';
import type { Feed, FeedVisit } from '../../../../libs/data/src/listing/feed-visits.ts';
import type { AssignmentFacts } from '../../../../libs/data/src/visit-facts.ts';
import { sayDay, sayTerm, sayTime, sayZone } from '../../../../libs/messages/src/spoken.ts';
import { speakerFor } from '../links/speaker.ts';
import { type SiteDayTimes, siteDayTimes } from '../links/visit-words.ts';
import { cautionsOf } from '../visits/cautions.ts';

type Facts = FeedVisit['facts'];

const KINDS: Readonly<Record<string, string>> = {
  survey: 'Survey',
  build: 'Build',
  return: 'Return visit',
  service: 'Service',
};

/** The entries of a calendar to follow. They name no people: whoever holds the address sees places and days only. */
export function feedEvents(feed: Feed): CalendarEvent[] {
  return feed.visits.flatMap((visit) => eventOf(feed, visit) ?? []);
}

function eventOf(feed: Feed, { facts, changedAt }: FeedVisit): CalendarEvent | null {
  const own =
    feed.person === null ? null : facts.assignments.find(({ person }) => person.key === feed.person);
  const days = siteDayTimes(facts, feed.workdayStart, own ? { from: own.fromDay, to: own.toDay } : null);
  if (days.length === 0) return null;
  const span = visitSpan(facts.site.zone, days);
  return {
    uid: own?.icalUid ?? facts.uid,
    sequence: own?.icalSequence ?? facts.sequence,
    stampedAt: changedAt,
    span,
    summary: `${KINDS[facts.job.visitKind] ?? 'Visit'}: ${facts.job.title}`,
    description: descriptionOf(feed, facts, days, own ?? null),
    location: [facts.site.name, facts.site.address].filter(Boolean).join(', '),
    geo: { latitudeDeg: facts.site.lat, longitudeDeg: facts.site.lon },
    status: own?.state === 'asked' ? 'TENTATIVE' : 'CONFIRMED',
    alarmsMinBefore: own ? visitAlarmsMinBefore(span) : [],
  };
}

function descriptionOf(
  feed: Feed,
  facts: Facts,
  days: readonly SiteDayTimes[],
  own: AssignmentFacts | null,
): string {
  const speaker = speakerFor(own?.person.language ?? 'en');
  const { zone, accessNotes } = facts.site;
  const first = days[0] as SiteDayTimes;
  const lines = days.map(
    ({ date, start, end, outside }) =>
      `${sayDay(speaker, date)}, ${sayTime(speaker, start)} to ${sayTime(speaker, end)}, ${sayTerm(speaker, 'work', outside ? 'outside' : 'inside')}`,
  );
  const reserve = facts.reserveDays.map((day) => sayDay(speaker, day)).join('; ');
  return [
    ...lines,
    `Times of the site: ${sayZone(speaker, zone, first.date, first.start)}.`,
    reserve && `In reserve for weather: ${reserve}.`,
    own?.state === 'asked' && 'You have not answered yet.',
    // Gate codes and the like go to those who work there alone.
    own && accessNotes,
    `Crew: ${facts.crew.name}.`,
    ...cautionsOf(facts),
    feed.isDemo && 'Demonstration: all names are invented.',
  ]
    .filter((line) => line !== '' && line !== false && line !== null)
    .join('\n');
}
