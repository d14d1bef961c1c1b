import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import ICAL from 'ical.js';
import { type Instant, toLocalDate } from '../../kernel/src/index.ts';
import type { CalendarEvent } from './calendar-event.ts';
import { cleanLine, cleanText } from './clean-text.ts';
import { feed } from './feed.ts';

const anyText = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc.string({ unit: 'grapheme', maxLength: 300 }),
  // Half surrogates, controls and the characters with a meaning of their own.
  fc
    .array(
      fc.constantFrom(
        '\ud83d',
        '\ude00',
        '\u0000',
        '\r',
        '\n',
        '\t',
        '\\',
        ';',
        ',',
        '"',
        ':',
        '^',
        ' ',
        'é',
        '漢',
      ),
    )
    .map((parts) => parts.join('')),
);

describe('any text', () => {
  it('comes back from an independent reader as it was, less what a calendar cannot hold, in lines of at most 75 octets', () => {
    fc.assert(
      fc.property(
        anyText,
        anyText,
        anyText,
        fc.integer({ min: 18_000, max: 24_000 }),
        (summary, description, location, dayNumber) => {
          fc.pre(cleanLine(summary) !== '');
          const event: CalendarEvent = {
            uid: 'a@x.test',
            sequence: 3,
            stampedAt: '2026-05-01T08:30:00.000Z' as Instant,
            span: { allDay: true, firstDay: toLocalDate(dayNumber), lastDay: toLocalDate(dayNumber + 2) },
            summary,
            description,
            location,
          };
          const text = feed({ name: summary, events: [event] });
          for (const line of text.split('\r\n'))
            expect(Buffer.byteLength(line, 'utf8')).toBeLessThanOrEqual(75);
          const calendar = new ICAL.Component(ICAL.parse(text) as unknown[]);
          const events = calendar.getAllSubcomponents('vevent');
          expect(events).toHaveLength(1);
          const read = (name: string): unknown => events[0]?.getFirstPropertyValue(name);
          expect(read('summary')).toBe(cleanLine(summary));
          expect(read('description') ?? '').toBe(cleanText(description));
          expect(read('location') ?? '').toBe(cleanText(location).trim());
          expect(String(read('dtstart'))).toBe(toLocalDate(dayNumber));
          expect(String(read('dtend'))).toBe(toLocalDate(dayNumber + 3));
        },
      ),
      { numRuns: 400 },
    );
  });

  it('is only changed where it must be', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme-composite', maxLength: 100 }), (text) => {
        // biome-ignore lint/suspicious/noControlCharactersInRegex: controls are what is left out
        fc.pre(!/[\u0000-\u001f\u007f]/.test(text));
        expect(cleanText(text)).toBe(text);
      }),
    );
  });
});
