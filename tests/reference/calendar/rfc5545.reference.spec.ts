import type ICAL from 'ical.js';
import type { CalendarEvent } from '../../../libs/calendar/src/calendar-event.ts';
import { feed } from '../../../libs/calendar/src/feed.ts';
import { type InvitationParams, invitation } from '../../../libs/calendar/src/invitation.ts';
import { type Instant, type LocalDate, parseLocalDate } from '../../../libs/kernel/src/index.ts';
import { readCalendar } from './read-calendar.ts';

// Section numbers are those of RFC 5545 unless another is named.

const day = (text: string): LocalDate => parseLocalDate(text);
const timed: CalendarEvent = {
  uid: 'assignment-17@larchandloon.test',
  sequence: 0,
  stampedAt: '2026-05-01T08:30:00.000Z' as Instant,
  span: {
    allDay: false,
    zone: 'America/St_Johns',
    start: { date: day('2026-06-09'), time: '07:30' },
    end: { date: day('2026-06-09'), time: '16:00' },
  },
  summary: 'Build, first day; shell \\ base',
  description: 'Bring gloves.\nMeet at the gate.',
  location: 'Signal Ridge School, 3 Hill Road',
  geo: { latitudeDeg: 47.570001, longitudeDeg: -52.681996 },
  url: 'https://plan.larchandloon.test/a?x=1,2;3',
  alarmsMinBefore: [720],
};
const allDay: CalendarEvent = {
  ...timed,
  span: { allDay: true, firstDay: day('2007-06-28'), lastDay: day('2007-07-08') },
};
const people = {
  organizer: { name: 'Larch & Loon Domes', mail: 'plan@larchandloon.test' },
  attendee: { name: 'Zoë "Zed" Fir', mail: 'zoe@example.test' },
};
const request: InvitationParams = { method: 'REQUEST', event: timed, ...people };

const lines = (text: string): string[] => text.replace(/\r\n[ \t]/g, '').split('\r\n');
const octets = (line: string): number => Buffer.byteLength(line, 'utf8');

describe('content lines (3.1)', () => {
  it('are at most 75 octets without CRLF, folded by CRLF and a space, and never within a character', () => {
    for (let length = 50; length < 130; length += 1) {
      for (const letter of ['a', 'é', '漢', '😀']) {
        const text = invitation({ ...request, event: { ...timed, summary: letter.repeat(length) } });
        expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
        const raw = text.split('\r\n');
        expect(Math.max(...raw.map(octets))).toBeLessThanOrEqual(75);
        // Each physical line is whole UTF-8 by itself.
        expect(raw.every((line) => !line.includes('\ufffd'))).toBe(true);
        expect(lines(text)).toContain(`SUMMARY:${letter.repeat(length)}`);
      }
    }
  });

  it('end with CRLF only', () => {
    expect(invitation(request).replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });
});

describe('the calendar object (3.4, 3.6, 3.7)', () => {
  it('has PRODID and VERSION, METHOD in an invitation and none in a feed', () => {
    const written = lines(invitation(request));
    expect(written[0]).toBe('BEGIN:VCALENDAR');
    expect(written).toContain('VERSION:2.0');
    expect(written.filter((line) => line.startsWith('PRODID:'))).toHaveLength(1);
    expect(written).toContain('METHOD:REQUEST');
    expect(feed({ name: 'Crew', events: [timed] })).not.toContain('METHOD');
  });

  it('gives UID and DTSTAMP in UTC (3.8.4.7, 3.8.7.2)', () => {
    const written = lines(invitation(request));
    expect(written).toContain('UID:assignment-17@larchandloon.test');
    expect(written).toContain('DTSTAMP:20260501T083000Z');
  });

  it('escapes backslash, semicolon, comma and line end in text (3.3.11)', () => {
    const written = lines(invitation(request));
    expect(written).toContain('SUMMARY:Build\\, first day\\; shell \\\\ base');
    expect(written).toContain('DESCRIPTION:Bring gloves.\\nMeet at the gate.');
    const text = feed({ name: 'Loons, larches; and \\', events: [timed] });
    expect(lines(text)).toContain('X-WR-CALNAME:Loons\\, larches\\; and \\\\');
  });

  it('does not escape an address, which would break it (3.3.13)', () => {
    const [event] = readCalendar(invitation(request)).events;
    expect(event?.component.getFirstPropertyValue('url')).toBe(
      'https://plan.larchandloon.test/a?x=1%2C2%3B3',
    );
  });

  it('cannot be given a property through a text', () => {
    const evil = 'a\r\nATTENDEE:mailto:other@example.test\rX-A:1\nEND:VEVENT\u2028\u0085\u0000';
    const text = invitation({
      ...request,
      event: { ...timed, summary: evil, description: evil, location: evil },
      organizer: { name: evil, mail: 'plan@larchandloon.test' },
      attendee: { name: `${evil}";X=1:`, mail: 'zoe@example.test' },
    });
    const calendar = readCalendar(text);
    expect(calendar.events).toHaveLength(1);
    expect(calendar.events[0]?.component.getAllProperties('attendee')).toHaveLength(1);
    expect(calendar.events[0]?.component.getFirstPropertyValue('attendee')).toBe('MAILTO:zoe@example.test');
    expect(lines(text).filter((line) => line.startsWith('X-A'))).toEqual([]);
    for (const bad of ['a b@x.test', 'a@x.test\r\nX:1', '"a"@x.test', 'a@x.test,b@x.test', 'nobody']) {
      expect(() => invitation({ ...request, attendee: { name: 'A', mail: bad } })).toThrow(
        expect.objectContaining({ code: 'invalid-input' }),
      );
    }
    for (const uid of ['', 'a b', 'a\r\nX:1', 'ü@x.test', 'a;b']) {
      expect(() => invitation({ ...request, event: { ...timed, uid } })).toThrow(
        expect.objectContaining({ code: 'invalid-input' }),
      );
    }
    for (const url of ['javascript:alert(1)', 'nowhere', 'mailto:a@b.test']) {
      expect(() => invitation({ ...request, event: { ...timed, url } })).toThrow(
        expect.objectContaining({ code: 'invalid-input' }),
      );
    }
  });
});

describe('times (3.3.5, 3.6.1, 3.8.2)', () => {
  it('the end of whole days is exclusive: 28 June to 8 July 2007 ends with the 9th (example of 3.6.1)', () => {
    const written = lines(invitation({ ...request, event: allDay }));
    expect(written).toContain('DTSTART;VALUE=DATE:20070628');
    expect(written).toContain('DTEND;VALUE=DATE:20070709');
    expect(written.join('\n')).not.toContain('TZID');
    expect(written).not.toContain('BEGIN:VTIMEZONE');
  });

  it('one whole day ends with the next', () => {
    const span = { allDay: true as const, firstDay: day('2028-02-29'), lastDay: day('2028-02-29') };
    const written = lines(invitation({ ...request, event: { ...timed, span } }));
    expect(written).toContain('DTEND;VALUE=DATE:20280301');
  });

  it('a set time has TZID, no Z, and a definition of that zone (3.2.19, 3.6.5)', () => {
    const written = lines(invitation(request));
    expect(written).toContain('DTSTART;TZID=America/St_Johns:20260609T073000');
    expect(written).toContain('DTEND;TZID=America/St_Johns:20260609T160000');
    expect(readCalendar(invitation(request)).zones).toEqual(['America/St_Johns']);
  });

  it('each zone used is defined once, however many events use it', () => {
    const inZone = (uid: string, zone: string): CalendarEvent => ({
      ...timed,
      uid,
      span: { ...(timed.span as Extract<typeof timed.span, { allDay: false }>), zone },
    });
    const zones = ['America/Halifax', 'America/New_York', 'America/Halifax', 'America/St_Johns'];
    const text = feed({ name: 'All', events: zones.map((zone, index) => inZone(`${index}@x.test`, zone)) });
    const read = readCalendar(text);
    expect(read.zones.sort()).toEqual(['America/Halifax', 'America/New_York', 'America/St_Johns']);
    expect(text.match(/BEGIN:VTIMEZONE/g)).toHaveLength(3);
  });

  it('a definition has TZID and in each part DTSTART without zone, TZOFFSETFROM and TZOFFSETTO (3.6.5, 3.3.14)', () => {
    for (const zone of ['America/St_Johns', 'America/Vancouver', 'Africa/Casablanca', 'Etc/UTC']) {
      const span = { ...(timed.span as Extract<typeof timed.span, { allDay: false }>), zone };
      const { component } = readCalendar(feed({ name: 'x', events: [{ ...timed, span }] }));
      const [definition] = component.getAllSubcomponents('vtimezone');
      const parts = definition?.getAllSubcomponents() ?? [];
      expect(parts.length).toBeGreaterThan(0);
      for (const part of parts) {
        expect(['standard', 'daylight']).toContain(part.name);
        for (const name of ['dtstart', 'tzoffsetfrom', 'tzoffsetto'])
          expect(part.getAllProperties(name)).toHaveLength(1);
        expect(part.getFirstProperty('dtstart')?.getParameter('tzid')).toBeUndefined();
        expect(String(part.getFirstPropertyValue('dtstart'))).not.toMatch(/Z$/);
      }
      expect(component.toString()).not.toContain('-0000');
    }
  });

  it('refuses an end that is not after the start, also where only the clocks make it so', () => {
    const span = (start: [string, string], end: [string, string]) => ({
      allDay: false as const,
      zone: 'America/New_York',
      start: { date: day(start[0]), time: start[1] },
      end: { date: day(end[0]), time: end[1] },
    });
    const refusal = expect.objectContaining({ code: 'invalid-input' });
    expect(() =>
      feed({
        name: 'x',
        events: [{ ...timed, span: span(['2026-06-09', '08:00'], ['2026-06-09', '08:00']) }],
      }),
    ).toThrow(refusal);
    // 02:30 does not exist on that day and means 03:30, which is after 03:15.
    expect(() =>
      feed({
        name: 'x',
        events: [{ ...timed, span: span(['2026-03-08', '02:30'], ['2026-03-08', '03:15']) }],
      }),
    ).toThrow(refusal);
    expect(() =>
      feed({
        name: 'x',
        events: [
          { ...timed, span: { allDay: true, firstDay: day('2026-06-02'), lastDay: day('2026-06-01') } },
        ],
      }),
    ).toThrow(refusal);
  });

  it('a time that comes twice is written in UTC, start and end alike, for readers differ about it', () => {
    const span = {
      allDay: false as const,
      zone: 'America/New_York',
      start: { date: day('2007-11-04'), time: '01:30' },
      end: { date: day('2007-11-04'), time: '12:00' },
    };
    const written = lines(feed({ name: 'x', events: [{ ...timed, span }] }));
    expect(written).toContain('DTSTART:20071104T053000Z');
    expect(written).toContain('DTEND:20071104T170000Z');
  });
});

describe('people, sequence and cancelling (3.2, 3.8.4, 3.8.7.4; RFC 5546 section 3.2)', () => {
  it('an invitation names the organizer and one person who has not answered and is asked to', () => {
    const [event] = readCalendar(invitation(request)).events;
    expect(event?.component.getFirstPropertyValue('organizer')).toBe('mailto:plan@larchandloon.test');
    const attendees = event?.component.getAllProperties('attendee') ?? [];
    expect(attendees).toHaveLength(1);
    expect(attendees[0]?.getParameter('partstat')).toBe('NEEDS-ACTION');
    expect(attendees[0]?.getParameter('rsvp')).toBe('TRUE');
    expect(attendees[0]?.getParameter('cn')).toBe('Zoë ’Zed’ Fir');
  });

  it('a feed names nobody', () => {
    expect(feed({ name: 'Crew', events: [timed, { ...allDay, uid: 'b@x.test' }] })).not.toMatch(
      /ATTENDEE|ORGANIZER|mailto/i,
    );
  });

  it('calling off keeps the uid, says CANCELLED, carries no alarm and needs a higher sequence', () => {
    const event = { ...timed, sequence: 2 };
    const [read] = readCalendar(invitation({ method: 'CANCEL', event, ...people })).events;
    expect(read?.uid).toBe(timed.uid);
    expect(read?.component.getFirstPropertyValue('status')).toBe('CANCELLED');
    expect(read?.component.getFirstPropertyValue('sequence')).toBe(2);
    expect(read?.component.getAllSubcomponents('valarm')).toHaveLength(0);
    const refusal = expect.objectContaining({ code: 'invalid-input' });
    expect(() => invitation({ method: 'CANCEL', event: timed, ...people })).toThrow(refusal);
    expect(() =>
      invitation({ method: 'REQUEST', event: { ...timed, status: 'CANCELLED' }, ...people }),
    ).toThrow(refusal);
  });

  it('an alarm has ACTION, TRIGGER and DESCRIPTION (3.6.6) and comes before the start', () => {
    const [read] = readCalendar(invitation(request)).events;
    const [alarm] = read?.component.getAllSubcomponents('valarm') ?? [];
    expect(alarm?.getFirstPropertyValue('action')).toBe('DISPLAY');
    const trigger = alarm?.getFirstPropertyValue('trigger') as ICAL.Duration | undefined;
    expect(trigger?.toSeconds()).toBe(-720 * 60);
    expect(alarm?.getFirstPropertyValue('description')).toBe(timed.summary);
  });

  it('GEO has latitude and longitude with a semicolon, also on the equator (3.8.1.6)', () => {
    expect(lines(invitation(request))).toContain('GEO:47.570001;-52.681996');
    const event = { ...timed, geo: { latitudeDeg: 0, longitudeDeg: 0.0000001 } };
    expect(lines(invitation({ ...request, event }))).toContain('GEO:0.000001;0.000001');
  });

  it('a feed refuses two events with one uid', () => {
    expect(() => feed({ name: 'x', events: [timed, allDay] })).toThrow(
      expect.objectContaining({ code: 'invalid-input' }),
    );
  });
});
