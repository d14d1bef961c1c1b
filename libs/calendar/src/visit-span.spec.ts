import { parseLocalDate } from '../../kernel/src/index.ts';
import { assignmentUid, visitAlarmsMinBefore, visitSpan } from './visit-span.ts';

const visitDay = (date: string) => ({ date: parseLocalDate(date), start: '07:30', end: '16:00' });

describe('a visit in a crew member’s calendar', () => {
  it('of one day has times in the zone of the site', () => {
    expect(visitSpan('America/Halifax', [visitDay('2026-06-09')])).toEqual({
      allDay: false,
      zone: 'America/Halifax',
      start: { date: '2026-06-09', time: '07:30' },
      end: { date: '2026-06-09', time: '16:00' },
    });
  });

  it('of several days is whole days from first to last, a gap between them included', () => {
    const span = visitSpan('America/Halifax', [visitDay('2026-06-12'), visitDay('2026-06-15')]);
    expect(span).toEqual({ allDay: true, firstDay: '2026-06-12', lastDay: '2026-06-15' });
    expect(visitAlarmsMinBefore(span)).toEqual([360]);
  });

  it('refuses no days, and days out of order', () => {
    const refusal = expect.objectContaining({ code: 'invalid-input' });
    expect(() => visitSpan('America/Halifax', [])).toThrow(refusal);
    expect(() => visitSpan('America/Halifax', [visitDay('2026-06-10'), visitDay('2026-06-09')])).toThrow(
      refusal,
    );
  });

  it('has a uid that does not hold the dates', () => {
    expect(assignmentUid('01J', 'larchandloon.test')).toBe('assignment-01J@larchandloon.test');
  });
});
