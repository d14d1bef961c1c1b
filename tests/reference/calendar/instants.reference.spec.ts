import type { CalendarEvent } from '../../../libs/calendar/src/calendar-event.ts';
import { feed } from '../../../libs/calendar/src/feed.ts';
import {
  addDays,
  hoursInLocalDay,
  type Instant,
  instantToMs,
  localToInstant,
  parseLocalDate,
} from '../../../libs/kernel/src/index.ts';
import { readCalendar } from './read-calendar.ts';

const stampedAt = '2026-01-01T00:00:00.000Z' as Instant;

// The zones of the demo seasons, and those with awkward rules: half-hour changes, a rule that stops (Vancouver in
// 2026), no changes, quarter hours, changes that follow the moon (Casablanca), changes at midnight, far offsets.
const ZONES = [
  'America/St_Johns',
  'America/Halifax',
  'America/Moncton',
  'America/Goose_Bay',
  'America/Glace_Bay',
  'America/New_York',
  'America/Toronto',
  'America/Vancouver',
  'Australia/Sydney',
  'Australia/Melbourne',
  'Australia/Hobart',
  'Australia/Lord_Howe',
  'Pacific/Auckland',
  'Pacific/Chatham',
  'America/Regina',
  'Asia/Kathmandu',
  'Africa/Casablanca',
  'Asia/Beirut',
  'America/Santiago',
  'Europe/London',
  'Europe/Dublin',
  'Pacific/Kiritimati',
  'Etc/UTC',
];
const TIMES = ['00:00', '00:30', '01:30', '02:15', '02:30', '03:00', '06:45', '12:00', '23:30'];

/** The days round each clock change of some years, and some days far from any. */
function awkwardDates(zone: string, firstYear: number, lastYear: number) {
  const dates = new Set([parseLocalDate(`${firstYear}-01-15`), parseLocalDate(`${lastYear}-07-15`)]);
  const last = parseLocalDate(`${lastYear}-12-31`);
  for (let date = parseLocalDate(`${firstYear}-01-01`); date <= last; date = addDays(date, 1)) {
    if (hoursInLocalDay(date, zone) !== 24) for (const offset of [-1, 0, 1]) dates.add(addDays(date, offset));
  }
  return [...dates].filter((date) => date >= `${firstYear}-01-01` && date <= last).sort();
}

function eventsFor(zone: string, firstYear: number, lastYear: number): CalendarEvent[] {
  return awkwardDates(zone, firstYear, lastYear).flatMap((date) =>
    TIMES.map((time) => ({
      uid: `${date}T${time.replace(':', '')}@test`,
      sequence: 0,
      stampedAt,
      span: {
        allDay: false as const,
        zone,
        start: { date, time },
        end: { date: addDays(date, 1), time: '12:00' },
      },
      summary: 'x',
    })),
  );
}

describe('an independent reader (ical.js) and the kernel agree on every instant', () => {
  it.each(ZONES)(
    '%s, 2025 to 2029 in one feed, times that the clocks skip or show twice included',
    (zone) => {
      const events = eventsFor(zone, 2025, 2029);
      const read = readCalendar(feed({ name: zone, events }));
      expect(read.events).toHaveLength(events.length);
      expect(read.zones).toContain(zone);
      for (const [index, event] of events.entries()) {
        if (event.span.allDay) throw new Error('timed events only');
        const { start, end } = event.span;
        expect({ uid: event.uid, ms: read.events[index]?.startMs }).toEqual({
          uid: event.uid,
          ms: instantToMs(localToInstant({ ...start, zone }).instant),
        });
        expect(read.events[index]?.endMs).toBe(instantToMs(localToInstant({ ...end, zone }).instant));
      }
    },
  );

  it.each(ZONES)('%s, each event in a file of its own', (zone) => {
    for (const event of eventsFor(zone, 2026, 2027)) {
      if (event.span.allDay) throw new Error('timed events only');
      const [read] = readCalendar(feed({ name: zone, events: [event] })).events;
      expect({ uid: event.uid, ms: read?.startMs }).toEqual({
        uid: event.uid,
        ms: instantToMs(localToInstant({ ...event.span.start, zone }).instant),
      });
    }
  });
});

describe('values of published tables', () => {
  const at = (zone: string, date: string, time: string): string => {
    const day = parseLocalDate(date);
    const span = {
      allDay: false as const,
      zone,
      start: { date: day, time },
      end: { date: addDays(day, 1), time: '12:00' },
    };
    const [read] = readCalendar(
      feed({ name: 'x', events: [{ uid: 'a@b', sequence: 0, stampedAt, span, summary: 'x' }] }),
    ).events;
    return new Date(read?.startMs ?? Number.NaN).toISOString().slice(0, 16);
  };

  // RFC 5545 section 3.3.5: a time in the gap is read with the offset before it.
  it('New York 2007-03-11 02:30 is 07:30Z (RFC 5545 section 3.3.5)', () => {
    expect(at('America/New_York', '2007-03-11', '02:30')).toBe('2007-03-11T07:30');
  });

  // RFC 5545 section 3.3.5: a time that comes twice is the first of the two.
  it('New York 2007-11-04 01:30 is 05:30Z (RFC 5545 section 3.3.5)', () => {
    expect(at('America/New_York', '2007-11-04', '01:30')).toBe('2007-11-04T05:30');
  });

  // IANA tzdata 2025b, rows evaluated by hand.
  it.each([
    ['Australia/Lord_Howe', '2024-01-15', '12:00', '2024-01-15T01:00'],
    ['Australia/Lord_Howe', '2024-07-15', '12:00', '2024-07-15T01:30'],
    ['Australia/Lord_Howe', '2024-10-06', '02:15', '2024-10-05T15:45'],
    ['America/St_Johns', '2024-01-15', '12:00', '2024-01-15T15:30'],
    ['America/St_Johns', '2024-07-15', '12:00', '2024-07-15T14:30'],
    ['Asia/Kathmandu', '2024-01-15', '12:00', '2024-01-15T06:15'],
    ['Pacific/Chatham', '2024-01-15', '12:00', '2024-01-14T22:15'],
    ['Australia/Lord_Howe', '2024-04-07', '01:45', '2024-04-06T14:45'],
    ['Europe/London', '2024-10-27', '01:30', '2024-10-27T00:30'],
    ['Pacific/Auckland', '2024-04-07', '02:30', '2024-04-06T13:30'],
    ['Australia/Sydney', '2024-04-07', '02:30', '2024-04-06T15:30'],
    ['Pacific/Apia', '2011-12-29', '23:59', '2011-12-30T09:59'],
    ['Pacific/Apia', '2011-12-31', '00:00', '2011-12-30T10:00'],
    ['Europe/London', '2024-03-31', '01:30', '2024-03-31T01:30'],
    ['Pacific/Auckland', '2024-09-29', '02:30', '2024-09-28T14:30'],
    ['Australia/Sydney', '2024-10-06', '02:30', '2024-10-05T16:30'],
    // IANA data of 2026: British Columbia keeps UTC-7 after March 2026.
    ['America/Vancouver', '2026-01-15', '09:00', '2026-01-15T17:00'],
    ['America/Vancouver', '2026-12-05', '09:00', '2026-12-05T16:00'],
  ])('%s %s %s is %sZ', (zone, date, time, expected) => {
    expect(at(zone, date, time)).toBe(expected);
  });
});
