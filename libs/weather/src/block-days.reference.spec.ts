import { describe, expect, it } from '@jest/globals';
import { dataFileText } from '../../../tests/builders/data-folder.ts';
import { type BlockByHand, type DayByHand, epwDaysByHand } from '../../../tests/builders/epw-by-hand.ts';
import { epwText } from '../../../tests/builders/epw-file.ts';
import { type BlockRules, blockDays } from './block-days.ts';
import { lightSpans } from './daylight.ts';
import { readEpw } from './readers/epw-reader.ts';
import { recordOf } from './record-of.ts';

const RULES: BlockRules = {
  shiftFromMin: 7 * 60,
  shiftToMin: 17 * 60,
  blockHours: 8,
  maxWindMps: 9,
  maxGustMps: null,
  maxRainMm: 0.1,
  daylight: false,
};

const BY_HAND: BlockByHand = { fromHour: 7, toHour: 17, blockHours: 8, maxWindMps: 9, maxRainMm: 0.1 };

function ours(text: string, rules = RULES): DayByHand[] {
  const { record } = readEpw(text, { keepGood: false });
  if (!record) throw new Error('the file was not read');
  return blockDays(record, rules).map(({ year, month, dayOfMonth, longestRunHours, good }) => ({
    date: `${year}-${String(month).padStart(2, '0')}-${String(dayOfMonth).padStart(2, '0')}`,
    longestRunHours,
    good,
  }));
}

describe('days with a block of workable hours', () => {
  it('are those that a few plain lines find in an invented year with missing hours', () => {
    const text = epwText({
      rainMm: ({ dayOfMonth, hour }) =>
        dayOfMonth % 5 === 0 && hour === 11 ? 0.4 : dayOfMonth % 7 === 0 && hour > 14 ? 999 : 0,
      windMps: ({ month, dayOfMonth, hour }) =>
        dayOfMonth % 9 === 0 && hour === 12 ? 999 : month > 10 ? 9.1 : dayOfMonth === 2 && hour < 10 ? 12 : 9,
    });
    const plain = epwDaysByHand(text, BY_HAND);
    expect(plain).toHaveLength(365);
    expect(new Set(plain.map(({ good }) => good))).toEqual(new Set([true, false, null]));
    expect(ours(text)).toEqual(plain);
    const other = { ...RULES, shiftFromMin: 390, shiftToMin: 1110, blockHours: 4, maxWindMps: 8.9 };
    expect(ours(text, other)).toEqual(
      epwDaysByHand(text, { ...BY_HAND, toHour: 18, blockHours: 4, maxWindMps: 8.9 }),
    );
  });

  it.each([
    ['CHL_Santiago_855740_BESTEST.epw', 'Santiago'],
    ['USA_GA_Atlanta_722190_BESTEST.epw', 'Atlanta'],
  ])('are those that a few plain lines find in %s, where it is present', (name) => {
    const text = dataFileText('weather', name);
    if (text === null) return;
    const plain = epwDaysByHand(text, BY_HAND);
    expect(plain).toHaveLength(365);
    const days = ours(text);
    expect(days).toEqual(plain);
    const share = (list: DayByHand[]) =>
      list.filter(({ good }) => good).length / list.filter(({ good }) => good !== null).length;
    expect(share(days)).toBe(share(plain));
    expect(ours(text, { ...RULES, blockHours: 5, maxWindMps: 5 })).toEqual(
      epwDaysByHand(text, { ...BY_HAND, blockHours: 5, maxWindMps: 5 }),
    );
  });

  const day = (
    at: (hour: number) => { windMps?: number; gustMps?: number; rainMm?: number } | null,
    lat = 51.5,
  ) =>
    recordOf({
      place: { name: 'invented', lat, lon: 0, elevationM: null },
      source: 'invented',
      standardOffsetMin: 0,
      typicalYear: false,
      start: '2027-12-21',
      hours: Array.from({ length: 24 }, (_, hour) => {
        const set = at(hour);
        return set && { windMps: 2, rainMm: 0, ...set };
      }),
    });
  const runOf = (record: ReturnType<typeof day>, change: Partial<BlockRules> = {}) => {
    const [only] = blockDays(record, { ...RULES, ...change });
    return [only?.longestRunHours, only?.good];
  };

  it('count only hours that lie wholly within the shift', () => {
    // 07:30 to 16:59: the hours from 8 to 16.
    expect(
      runOf(
        day(() => ({})),
        { shiftFromMin: 450, shiftToMin: 1019 },
      ),
    ).toEqual([8, true]);
  });

  it('take a value of just the limit as within it, and estimate a gust that is not there', () => {
    expect(runOf(day(() => ({ windMps: 9, rainMm: 0.1 })))).toEqual([10, true]);
    expect(runOf(day(() => ({ windMps: 9.1 })))).toEqual([0, false]);
    // 7 m/s x 1.4 = 9.8 m/s.
    expect(
      runOf(
        day(() => ({ windMps: 7 })),
        { maxGustMps: 9.8 },
      ),
    ).toEqual([10, true]);
    expect(
      runOf(
        day(() => ({ windMps: 7 })),
        { maxGustMps: 9.7 },
      ),
    ).toEqual([0, false]);
    expect(
      runOf(
        day(() => ({ windMps: 7, gustMps: 9 })),
        { maxGustMps: 9.7 },
      ),
    ).toEqual([10, true]);
  });

  it('never call a day good or bad that hours decide of which nothing is known', () => {
    const noon = (hour: number) => (hour === 12 ? { rainMm: Number.NaN } : {});
    expect(runOf(day(noon))).toEqual([5, null]);
    expect(runOf(day((hour) => (hour === 12 ? null : {})))).toEqual([5, null]);
    expect(runOf(day(noon), { blockHours: 5 })).toEqual([5, true]);
    // Rain at nine leaves at best the seven hours from ten: bad whatever happened at noon.
    expect(runOf(day((hour) => (hour === 9 ? { rainMm: 2 } : noon(hour))))).toEqual([4, false]);
    expect(runOf(day(noon), { maxRainMm: null })).toEqual([10, true]);
  });

  it('keep to hours between sunrise and sunset when asked to', () => {
    // By rise and set of that date (the sun is up for less than 8 hours in London at midwinter), and in the polar night.
    const record = day(() => ({}));
    const start = Math.floor((record.hourIndex[0] as number) * 60);
    const [span] = lightSpans(record.place, start, start + 1440);
    const whole =
      Math.floor(((span?.toMin ?? 0) - start) / 60) - Math.ceil(((span?.fromMin ?? 0) - start) / 60);
    expect(whole).toBe(6);
    expect(runOf(record, { daylight: true })).toEqual([6, false]);
    expect(
      runOf(
        day(() => ({}), 75),
        { daylight: true },
      ),
    ).toEqual([0, false]);
  });

  it('are refused for a shift or block that cannot be', () => {
    expect(() =>
      blockDays(
        day(() => ({})),
        { ...RULES, shiftToMin: 420 },
      ),
    ).toThrow('invalid-input');
    expect(() =>
      blockDays(
        day(() => ({})),
        { ...RULES, blockHours: 0 },
      ),
    ).toThrow('invalid-input');
  });
});
