import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { DryspellError } from '../../kernel/src/index.ts';
import { parseReply } from './parse-reply.ts';

// The form of a REPLY is that of RFC 5545 and 5546; the texts are made up here.
const reply = (changes: { drop?: string; add?: string[]; replace?: Record<string, string> } = {}): string => {
  const properties = [
    'UID:assignment-17@larchandloon.test',
    'SEQUENCE:2',
    'DTSTAMP:20260502T101500Z',
    'DTSTART;TZID=America/St_Johns:20260609T073000',
    'ORGANIZER:mailto:plan@larchandloon.test',
    'ATTENDEE;CN="Zoë Fir";PARTSTAT=ACCEPTED:mailto:Zoe@Example.test',
    'COMMENT:See you there\\, early',
  ]
    .filter((line) => changes.drop === undefined || !line.startsWith(changes.drop))
    .map((line) => changes.replace?.[line.split(/[:;]/)[0] as string] ?? line);
  return [
    'BEGIN:VCALENDAR',
    'PRODID:-//test//EN',
    'VERSION:2.0',
    'METHOD:REPLY',
    'BEGIN:VEVENT',
    ...properties,
    ...(changes.add ?? []),
    'END:VEVENT',
    'END:VCALENDAR',
    '',
  ].join('\r\n');
};

describe('an answer from a calendar program', () => {
  it('is read with what was answered, by whom, to which version', () => {
    expect(parseReply(reply())).toEqual({
      uid: 'assignment-17@larchandloon.test',
      sequence: 2,
      attendeeMail: 'zoe@example.test',
      answer: 'accepted',
      repliedAt: '2026-05-02T10:15:00.000Z',
      comment: 'See you there, early',
    });
  });

  it.each([
    ['ACCEPTED', 'accepted'],
    ['declined', 'declined'],
    ['TENTATIVE', 'tentative'],
    ['DELEGATED', 'delegated'],
    ['NEEDS-ACTION', 'none'],
  ])('PARTSTAT %s is %s', (partstat, answer) => {
    const text = reply({ replace: { ATTENDEE: `ATTENDEE;PARTSTAT=${partstat}:MAILTO:zoe@example.test` } });
    expect(parseReply(text).answer).toBe(answer);
  });

  it('without SEQUENCE answers the first version; without a stamp or comment these are unknown', () => {
    expect(parseReply(reply({ drop: 'SEQUENCE' })).sequence).toBe(0);
    expect(parseReply(reply({ drop: 'DTSTAMP' })).repliedAt).toBeNull();
    expect(parseReply(reply({ drop: 'COMMENT' })).comment).toBeNull();
    // A stamp that is not UTC is no instant.
    expect(parseReply(reply({ replace: { DTSTAMP: 'DTSTAMP:20260502T101500' } })).repliedAt).toBeNull();
  });

  it('may come with bare LF and folded lines', () => {
    const folded = reply().replaceAll('\r\n', '\n').replace('assignment-17', 'assign\n ment-17');
    expect(parseReply(folded).uid).toBe('assignment-17@larchandloon.test');
  });

  it('keeps a long comment short', () => {
    expect(parseReply(reply({ replace: { COMMENT: `COMMENT:${'x'.repeat(5000)}` } })).comment).toHaveLength(
      1000,
    );
  });

  it.each<[string, string]>([
    ['empty', ''],
    ['no calendar', 'hello'],
    ['two calendars', reply() + reply()],
    ['a request', reply().replace('METHOD:REPLY', 'METHOD:REQUEST')],
    ['no method', reply().replace('METHOD:REPLY\r\n', '')],
    ['no uid', reply({ drop: 'UID' })],
    ['a very long uid', reply({ replace: { UID: `UID:${'u'.repeat(300)}` } })],
    ['no attendee', reply({ drop: 'ATTENDEE' })],
    ['two attendees', reply({ add: ['ATTENDEE;PARTSTAT=DECLINED:mailto:b@example.test'] })],
    ['no partstat', reply({ replace: { ATTENDEE: 'ATTENDEE:mailto:zoe@example.test' } })],
    [
      'a partstat that is a property of objects',
      reply({ replace: { ATTENDEE: 'ATTENDEE;PARTSTAT=constructor:mailto:z@x.test' } }),
    ],
    [
      'an attendee that is no mail address',
      reply({ replace: { ATTENDEE: 'ATTENDEE;PARTSTAT=ACCEPTED:tel:123' } }),
    ],
    [
      'an attendee with two addresses',
      reply({ replace: { ATTENDEE: 'ATTENDEE;PARTSTAT=ACCEPTED:mailto:a@b.test,c@d.test' } }),
    ],
    ['a sequence below zero', reply({ replace: { SEQUENCE: 'SEQUENCE:-1' } })],
    ['one occurrence of a series', reply({ add: ['RECURRENCE-ID:20260609T100000Z'] })],
    ['cut off', reply().slice(0, 200)],
  ])('refuses %s', (_title, text) => {
    expect(() => parseReply(text)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });

  it('refuses what is too large before reading it', () => {
    expect(() => parseReply(reply({ add: [`X-A:${'y'.repeat(300_000)}`] }))).toThrow(
      expect.objectContaining({ code: 'too-large' }),
    );
    expect(() => parseReply(reply({ add: new Array(6_000).fill('X:1') }))).toThrow(
      expect.objectContaining({ code: 'too-large' }),
    );
  });

  it('never follows a repetition and never runs deep', () => {
    const text = reply({ add: ['RRULE:FREQ=SECONDLY;COUNT=999999999', ...new Array(2_000).fill('BEGIN:X')] });
    expect(() => parseReply(text)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });

  it('answers or refuses with a code, whatever it is given', () => {
    const lines = reply().split('\r\n');
    const mutated = fc
      .array(fc.tuple(fc.nat(lines.length - 1), fc.string({ unit: 'binary', maxLength: 40 })), {
        maxLength: 6,
      })
      .map((edits) => {
        const copy = [...lines];
        for (const [index, junk] of edits)
          copy[index] = junk.length % 2 === 0 ? junk : `${copy[index]}${junk}`;
        return copy.join('\r\n');
      });
    fc.assert(
      fc.property(mutated, (text) => {
        try {
          expect(parseReply(text).uid.length).toBeGreaterThan(0);
        } catch (error) {
          expect(error).toBeInstanceOf(DryspellError);
        }
      }),
      { numRuns: 500 },
    );
  });
});
