import { localToInstant, parseLocalDate, tzDataVersion } from '../../kernel/src/index.ts';
import { publicHolidays } from './public-holidays.ts';

const datesOf = (country: string, region: string | null, year: number): string[] =>
  publicHolidays({ country, region, year }).map((holiday) => holiday.date);

describe('public holidays', () => {
  it('knows the days that laws name by date or weekday', () => {
    // Canada, Holidays Act R.S.C. 1985 c. H-5 and Canada Labour Code s. 166: 1 July, first Monday of September
    // (from memory).
    expect(datesOf('CA', 'NS', 2026)).toEqual(
      expect.arrayContaining(['2026-07-01', '2026-09-07', '2026-12-25']),
    );
    // United States, 5 U.S.C. 6103(a): fourth Thursday of November, third Monday of January; (b): a Saturday holiday is
    // kept on the Friday before (from memory).
    expect(datesOf('US', 'ME', 2026)).toEqual(
      expect.arrayContaining(['2026-11-26', '2026-01-19', '2026-07-03']),
    );
    // New Zealand, Te Kahui o Matariki Public Holiday Act 2022, schedule 1: 10 July 2026, 25 June 2027 (from memory).
    expect(datesOf('NZ', 'AUK', 2026)).toContain('2026-07-10');
    expect(datesOf('NZ', 'AUK', 2027)).toContain('2027-06-25');
  });

  it('finds Good Friday by the computus', () => {
    // Easter Sundays by the Gregorian computus: 2025-04-20, 2026-04-05, 2027-03-28, 2028-04-16 (from memory).
    for (const [year, friday] of [
      [2025, '2025-04-18'],
      [2026, '2026-04-03'],
      [2027, '2027-03-26'],
      [2028, '2028-04-14'],
    ] as const) {
      expect(datesOf('AU', 'NSW', year)).toContain(friday);
    }
  });

  it('is in order and holds public holidays only', () => {
    const dates = datesOf('CA', 'NL', 2026);
    expect(dates).toEqual([...dates].sort());
    expect(dates).not.toContain('2026-02-14');
  });

  it('lists each day of a holiday that lasts several', () => {
    // China, State Council Order 795 (2024): Spring Festival has four days from New Year's Eve on (from memory); the
    // data must at least give more than the first.
    const days = publicHolidays({ country: 'CN', region: null, year: 2026, language: 'en' }).filter(
      (holiday) => /spring/i.test(holiday.name),
    );
    expect(days.length).toBeGreaterThan(1);
    expect(new Set(days.map((day) => day.date)).size).toBe(days.length);
  });

  it('refuses what it does not know', () => {
    const refusal = expect.objectContaining({ code: 'invalid-input' });
    expect(() => publicHolidays({ country: 'XX', region: null, year: 2026 })).toThrow(refusal);
    expect(() => publicHolidays({ country: 'CA', region: 'ZZ', year: 2026 })).toThrow(refusal);
    expect(() => publicHolidays({ country: 'CA', region: 'constructor', year: 2026 })).toThrow(refusal);
    expect(() => publicHolidays({ country: 'CA', region: null, year: 20.5 })).toThrow(refusal);
  });

  it('leaves the zone data of the program alone, though the holiday data brings older data of its own', () => {
    publicHolidays({ country: 'CA', region: 'BC', year: 2026 });
    const moment = { date: parseLocalDate('2026-12-05'), time: '09:00', zone: 'America/Vancouver' };
    // IANA data from 2026 on: British Columbia stays at UTC-7.
    expect(tzDataVersion >= '2026').toBe(true);
    expect(localToInstant(moment).instant).toBe('2026-12-05T16:00:00.000Z');
  });
});
