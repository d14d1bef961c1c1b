import { describe, expect, it } from '@jest/globals';
import {
  hoursInLocalDay,
  instantToLocal,
  localToInstant,
  parseInstant,
  parseLocalDate,
  startOfLocalDay,
  tzDataVersion,
} from './index.ts';

const at = (zone: string, date: string, time: string, rule = {}) =>
  localToInstant({ date: parseLocalDate(date), time, zone }, rule);

describe('the zone calendar agrees with the IANA time zone data', () => {
  // Source: IANA tzdata, zone and rule lines of each place, evaluated by hand and with zdump.
  it.each([
    ['Australia/Lord_Howe', '2024-01-15', '12:00', '2024-01-15T01:00:00.000Z'],
    ['Australia/Lord_Howe', '2024-07-15', '12:00', '2024-07-15T01:30:00.000Z'],
    ['America/St_Johns', '2024-01-15', '12:00', '2024-01-15T15:30:00.000Z'],
    ['America/St_Johns', '2024-07-15', '12:00', '2024-07-15T14:30:00.000Z'],
    ['Asia/Kathmandu', '2024-01-15', '12:00', '2024-01-15T06:15:00.000Z'],
    ['Pacific/Chatham', '2024-01-15', '12:00', '2024-01-14T22:15:00.000Z'],
    ['Pacific/Apia', '2011-12-29', '23:59', '2011-12-30T09:59:00.000Z'],
    ['Pacific/Apia', '2011-12-31', '00:00', '2011-12-30T10:00:00.000Z'],
    // IANA tzdata 2026 releases: British Columbia stays at UTC-7 from 2026-03-08; older data says 17:00Z.
    ['America/Vancouver', '2026-12-05', '09:00', '2026-12-05T16:00:00.000Z'],
  ])('%s %s %s is %s', (zone, date, time, instant) => {
    expect(at(zone, date, time)).toEqual({ instant, found: 'exact' });
    const local = instantToLocal(parseInstant(instant), zone);
    expect([local.date, local.time]).toEqual([date, `${time}:00`]);
  });

  // Source: as above. Columns: offset-before, next-valid.
  it.each([
    ['Australia/Lord_Howe', '2024-10-06', '02:15', '2024-10-05T15:45:00.000Z', '2024-10-05T15:30:00.000Z'],
    ['Europe/London', '2024-03-31', '01:30', '2024-03-31T01:30:00.000Z', '2024-03-31T01:00:00.000Z'],
    ['Pacific/Auckland', '2024-09-29', '02:30', '2024-09-28T14:30:00.000Z', '2024-09-28T14:00:00.000Z'],
    ['Australia/Sydney', '2024-10-06', '02:30', '2024-10-05T16:30:00.000Z', '2024-10-05T16:00:00.000Z'],
    // RFC 5545 section 3.3.5, the printed example of a local time that does not exist.
    ['America/New_York', '2007-03-11', '02:30', '2007-03-11T07:30:00.000Z', '2007-03-11T07:00:00.000Z'],
    // The whole of 30 December 2011 was left out in Samoa (UTC-10 to UTC+14).
    ['Pacific/Apia', '2011-12-30', '12:00', '2011-12-30T22:00:00.000Z', '2011-12-30T10:00:00.000Z'],
  ])('in %s %s %s does not exist', (zone, date, time, offsetBefore, nextValid) => {
    expect(at(zone, date, time)).toEqual({ instant: offsetBefore, found: 'gap' });
    expect(at(zone, date, time, { inGap: 'next-valid' })).toEqual({ instant: nextValid, found: 'gap' });
  });

  // Source: as above.
  it.each([
    ['Australia/Lord_Howe', '2024-04-07', '01:45', '2024-04-06T14:45:00.000Z', '2024-04-06T15:15:00.000Z'],
    ['Europe/London', '2024-10-27', '01:30', '2024-10-27T00:30:00.000Z', '2024-10-27T01:30:00.000Z'],
    ['Pacific/Auckland', '2024-04-07', '02:30', '2024-04-06T13:30:00.000Z', '2024-04-06T14:30:00.000Z'],
    ['Australia/Sydney', '2024-04-07', '02:30', '2024-04-06T15:30:00.000Z', '2024-04-06T16:30:00.000Z'],
    // RFC 5545 section 3.3.5, the printed example of a local time that comes twice: the first is meant.
    ['America/New_York', '2007-11-04', '01:30', '2007-11-04T05:30:00.000Z', '2007-11-04T06:30:00.000Z'],
  ])('in %s %s %s comes twice', (zone, date, time, first, second) => {
    expect(at(zone, date, time)).toEqual({ instant: first, found: 'overlap' });
    expect(at(zone, date, time, { inOverlap: 'second' })).toEqual({ instant: second, found: 'overlap' });
  });

  it.each([
    ['America/Halifax', '2026-03-08', 23],
    ['America/Halifax', '2026-11-01', 25],
    ['Australia/Lord_Howe', '2024-10-06', 23.5],
    ['Australia/Lord_Howe', '2024-04-07', 24.5],
    ['Pacific/Apia', '2011-12-30', 0],
    ['America/St_Johns', '2026-06-01', 24],
  ])('the local day in %s %s has %d hours', (zone, date, hours) => {
    expect(hoursInLocalDay(parseLocalDate(date), zone)).toBe(hours);
  });

  it('starts a day whose midnight does not exist at the first moment that does', () => {
    // America/Havana moved from 00:00 to 01:00 on 2024-03-10 (IANA tzdata, rule Cuba).
    expect(startOfLocalDay(parseLocalDate('2024-03-10'), 'America/Havana')).toBe('2024-03-10T05:00:00.000Z');
    expect(startOfLocalDay(parseLocalDate('2011-12-30'), 'Pacific/Apia')).toBeUndefined();
  });

  it('names the release of the data in force', () => {
    expect(tzDataVersion).toMatch(/^20\d\d[a-z]$/);
    expect(tzDataVersion >= '2026f').toBe(true);
  });
});
