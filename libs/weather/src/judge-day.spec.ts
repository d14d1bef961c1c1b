// One site day against hours of any clock: days of 23 and 25 hours, half-hour zones, unknown hours, a night half done, and what a lift may not do.
import { describe, expect, it } from '@jest/globals';
import { type LocalDate, localToInstant, parseLocalDate, toDay } from '../../kernel/src/index.ts';
import type { HourlyRecord } from './hourly-record.ts';
import { judgeDay, type SiteDay, shiftOn } from './judge-day.ts';
import type { OutsideStep, SiteDayWork, StepLimits } from './site-day-work.ts';

const NO_LIMITS: StepLimits = {
  gustMps: null,
  meanWindMps: null,
  loadHeightM: null,
  rainMmPerHour: null,
  tempMinC: null,
  tempMaxC: null,
  dewPointMarginC: null,
  needsDaylight: false,
};
const STEP: OutsideStep = {
  key: 'step',
  durationMin: 60,
  interruptible: false,
  limits: NO_LIMITS,
  dryAfterMin: 0,
  lagMin: 0,
  maxLagMin: null,
  mayStopAfter: false,
};
const step = (over: Partial<OutsideStep>, limits: Partial<StepLimits> = {}): OutsideStep => ({
  ...STEP,
  ...over,
  limits: { ...NO_LIMITS, ...limits },
});
const workOf = (...steps: OutsideStep[]): SiteDayWork => ({ steps, makeSafeGustMps: 15 });

interface Weather {
  readonly wind?: number;
  readonly gust?: number | null;
  readonly rain?: number | null;
  readonly temp?: number;
  readonly dew?: number;
  readonly thunder?: number;
}

/** Four days of calm, dry, mild hours in UTC from the day before `date`, changed where `change` says so by the local hour of the date. */
function hours(
  date: LocalDate,
  zone: string,
  change: (hour: number, day: number) => Weather | null,
): HourlyRecord {
  const first = (toDay(date) - 1) * 24;
  const midnights = [-1, 0, 1, 2].map(
    (off) =>
      Date.parse(localToInstant({ date: parseLocalDate(dayText(date, off)), time: '00:00', zone }).instant) /
      3_600_000,
  );
  const all = Array.from({ length: 96 }, (_, at): Weather => {
    const utcHour = first + at;
    const day = midnights.findLastIndex((midnight) => midnight <= utcHour);
    const change_ = day < 0 ? null : change(utcHour - (midnights[day] as number), day - 1);
    return { wind: 3, gust: 5, rain: 0, temp: 12, dew: 4, thunder: 0, ...change_ };
  });
  const column = (value: (hour: Weather) => number | null | undefined): Float32Array =>
    Float32Array.from(all, (hour) => value(hour) ?? Number.NaN);
  return {
    place: { name: 'made up', lat: 45, lon: -63, elevationM: null },
    source: 'made up',
    standardOffsetMin: 0,
    typicalYear: false,
    hourIndex: Int32Array.from(all, (_, at) => first + at),
    tempC: column((hour) => hour.temp),
    dewPointC: column((hour) => hour.dew),
    rainMm: column((hour) => hour.rain),
    windMps: column((hour) => hour.wind),
    gustMps: column((hour) => hour.gust),
    thunder: Int8Array.from(all, (hour) => hour.thunder as number),
  };
}

function dayText(date: LocalDate, off: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + off * 86_400_000).toISOString().slice(0, 10);
}

const siteDay = (date: string, zone = 'America/Halifax', from = '08:00', to = '17:00'): SiteDay => ({
  date: parseLocalDate(date),
  place: { lat: 45, lon: -63 },
  shift: { from, to, zone },
});
const calm = () => null;
const on = (day: SiteDay, work: SiteDayWork, change: (hour: number, day: number) => Weather | null = calm) =>
  judgeDay(hours(day.date, day.shift.zone, change), work, day);

describe('a site day', () => {
  const june = siteDay('2027-06-15');

  it('begins with the shift on the clocks of the site, and the latest start leaves time for all of it', () => {
    const judged = on(june, workOf(step({ durationMin: 300 }), step({ durationMin: 120, lagMin: 30 })));
    expect(judged.state).toBe('good');
    expect(judged.steps.map(({ from, to }) => [from, to])).toEqual([
      ['2027-06-15T11:00:00.000Z', '2027-06-15T16:00:00.000Z'],
      ['2027-06-15T16:30:00.000Z', '2027-06-15T18:30:00.000Z'],
    ]);
    // 17:00 less 7 h 30: 09:30 in Halifax, three hours behind UTC in summer.
    expect(judged.latestStart).toBe('2027-06-15T12:30:00.000Z');
  });

  it('waits out a wet hour with what may not be paused, and works around it with what may', () => {
    const wet = (hour: number, day: number) => (day === 0 && hour === 10 ? { rain: 1 } : null);
    const dry = { rainMmPerHour: 0.2 };
    expect(on(june, workOf(step({ durationMin: 180 }, dry)), wet).steps[0]?.from).toBe(
      '2027-06-15T14:00:00.000Z',
    );
    expect(on(june, workOf(step({ durationMin: 180, interruptible: true }, dry)), wet).steps[0]).toEqual({
      key: 'step',
      from: '2027-06-15T11:00:00.000Z',
      to: '2027-06-15T15:00:00.000Z',
    });
  });

  it('reads gusts at the height of the load: 9.5 at 10 m is under a limit of 9 at 2.6 m and over it at 12 m', () => {
    const windy = () => ({ gust: 9.5 });
    expect(on(june, workOf(step({}, { gustMps: 9, loadHeightM: 2.6 })), windy).state).toBe('good');
    expect(on(june, workOf(step({}, { gustMps: 9, loadHeightM: 12 })), windy).state).toBe('bad');
    expect(on(june, workOf(step({}, { gustMps: 9 })), windy).state).toBe('bad');
  });

  it('estimates a missing gust from the mean wind, and does not know it without one', () => {
    const work = workOf(step({}, { gustMps: 9 }));
    expect(on(june, work, () => ({ gust: null, wind: 6 })).state).toBe('good');
    expect(on(june, work, () => ({ gust: null, wind: 7 })).state).toBe('bad');
    expect(on(june, work, () => ({ gust: null, wind: Number.NaN })).state).toBe('unknown');
  });

  it('is never good on unknown hours, and bad where even hope does not help', () => {
    const work = workOf(step({ durationMin: 240 }, { rainMmPerHour: 0 }));
    expect(on(june, work, (hour, day) => (day === 0 && hour >= 9 ? { rain: null } : null)).state).toBe(
      'unknown',
    );
    const hopeless = (hour: number, day: number) =>
      day === 0 ? (hour === 8 ? { rain: null } : hour % 3 === 0 ? { rain: 2 } : null) : null;
    expect(on(june, work, hopeless).state).toBe('bad');
  });

  it('holds temperature and dew point: the surface must stay 3 C over the dew point, and thunder stops all for the hour after too', () => {
    const seal = workOf(step({ durationMin: 480 }, { tempMinC: 5, tempMaxC: 40, dewPointMarginC: 3 }));
    expect(on(june, seal, () => ({ temp: 12, dew: 8.9 })).state).toBe('good');
    expect(on(june, seal, () => ({ temp: 12, dew: 9.1 })).state).toBe('bad');
    expect(on(june, seal, () => ({ temp: 4.9 })).state).toBe('bad');
    const storm = (hour: number, day: number) => (day === 0 && hour === 11 ? { thunder: 1 } : null);
    expect(on(june, workOf(step({ durationMin: 240 })), storm).steps[0]?.from).toBe(
      '2027-06-15T16:00:00.000Z',
    );
  });

  it('keeps sealant dry into the evening', () => {
    const seal = workOf(step({ durationMin: 500, dryAfterMin: 120 }, { rainMmPerHour: 0 }));
    expect(on(june, seal).state).toBe('good');
    expect(on(june, seal, (hour, day) => (day === 0 && hour === 18 ? { rain: 0.3 } : null)).state).toBe(
      'bad',
    );
  });

  it('stops for the night only where the work may, under the make-safe gust, and when the next day closes it', () => {
    const work = workOf(
      step({ durationMin: 300, mayStopAfter: true }, { rainMmPerHour: 0 }),
      step({ durationMin: 200 }, { rainMmPerHour: 0 }),
    );
    const wetAfternoon = (hour: number, day: number) =>
      day === 0 && hour >= 14 && hour < 20 ? { rain: 1 } : null;
    expect(on(june, work, wetAfternoon).state).toBe('split');
    const gale = (hour: number, day: number) =>
      hour === 23 && day === 0 ? { gust: 16 } : wetAfternoon(hour, day);
    expect(on(june, work, gale).state).toBe('bad');
    const wetNextDay = (hour: number, day: number) => (day === 1 ? { rain: 1 } : wetAfternoon(hour, day));
    expect(on(june, work, wetNextDay).state).toBe('bad');
    const noStop = { ...work, steps: work.steps.map((each) => ({ ...each, mayStopAfter: false })) };
    expect(on(june, noStop, wetAfternoon).state).toBe('bad');
    expect(on(june, { ...work, makeSafeGustMps: null }, wetAfternoon).state).toBe('bad');
  });

  it('counts the night between two steps: sealant must not wait for it open, and what must cure may', () => {
    const dry = { rainMmPerHour: 0 };
    const wetAfternoon = (hour: number, day: number) =>
      day === 0 && hour >= 12 && hour < 20 ? { rain: 1 } : null;
    // 08:00 to 12:00, wet until the evening, on at 08:00 the next day: 20 hours.
    const work = (over: Partial<OutsideStep>) =>
      workOf(step({ durationMin: 240, mayStopAfter: true }, dry), step({ durationMin: 300, ...over }, dry));
    expect(on(june, work({}), wetAfternoon).state).toBe('split');
    expect(on(june, work({ maxLagMin: 20 * 60 }), wetAfternoon).state).toBe('split');
    expect(on(june, work({ maxLagMin: 20 * 60 - 1 }), wetAfternoon).state).toBe('bad');
    // Five hours from 12:00 end with the shift at 17:00; a cure until a minute later does not let them.
    expect(on(june, work({ lagMin: 24 * 60 }), wetAfternoon).state).toBe('split');
    expect(on(june, work({ lagMin: 24 * 60 + 1 }), wetAfternoon).state).toBe('bad');
    // A wet morning keeps the second step waiting longer than its open time, though the night alone does not.
    const wetMorning = (hour: number, day: number) =>
      day === 1 && hour < 10 ? { rain: 1 } : wetAfternoon(hour, day);
    expect(on(june, work({ maxLagMin: 22 * 60 }), wetMorning).state).toBe('split');
    expect(on(june, work({ maxLagMin: 21 * 60 }), wetMorning).state).toBe('bad');
    // Where the last stop is too late, an earlier one may do.
    const three = (maxLagMin: number | null) =>
      workOf(
        step({ durationMin: 120, mayStopAfter: true }, dry),
        step({ durationMin: 120, mayStopAfter: true }, dry),
        step({ durationMin: 300, maxLagMin }, dry),
      );
    expect(on(june, three(600), wetAfternoon).state).toBe('split');
  });

  it('needs daylight where the step does: no 12 hours of it in December', () => {
    const long = siteDay('2027-12-15', 'America/Halifax', '06:00', '20:00');
    const work = (needsDaylight: boolean) =>
      workOf(step({ durationMin: 600, interruptible: true }, { needsDaylight }));
    expect(on(long, work(false)).state).toBe('good');
    expect(on(long, work(true)).state).toBe('bad');
  });

  it('has no good day in the polar night, and a whole one in the polar day', () => {
    const place = { lat: 69.65, lon: 18.96 };
    const work = workOf(step({ durationMin: 400 }, { needsDaylight: true }));
    const at = (date: string) => ({ ...siteDay(date, 'Europe/Oslo'), place });
    expect(on(at('2027-12-20'), work).state).toBe('bad');
    expect(on(at('2027-06-20'), work).state).toBe('good');
  });

  it('does not say anything of days that the hours do not reach', () => {
    const record = hours(parseLocalDate('2027-06-15'), 'America/Halifax', calm);
    expect(judgeDay(record, workOf(step({}, { rainMmPerHour: 0 })), siteDay('2027-07-15')).state).toBe(
      'unknown',
    );
  });
});

describe('the shift on days on which the clocks change', () => {
  it.each([
    // 14 March 2027: 02:00 becomes 03:00; 7 November 2027: 02:00 becomes 01:00.
    ['America/Halifax', '2027-03-14', '00:00', '10:00', 9],
    ['America/Halifax', '2027-11-07', '00:00', '10:00', 11],
    ['America/Halifax', '2027-06-15', '00:00', '10:00', 10],
    // Half an hour: Lord Howe, 3 October 2027 forward, 4 April 2027 back.
    ['Australia/Lord_Howe', '2027-10-03', '00:00', '10:00', 9.5],
    ['Australia/Lord_Howe', '2027-04-04', '00:00', '10:00', 10.5],
  ])('%s %s from %s to %s lasts %d hours', (zone, date, from, to, expected) => {
    const { shiftFromMin, shiftToMin } = shiftOn(parseLocalDate(date), siteDay(date, zone, from, to));
    expect((shiftToMin - shiftFromMin) / 60).toBe(expected);
  });

  it('begins right after the hour that is left out', () => {
    const { shiftFromMin } = shiftOn(
      parseLocalDate('2027-03-14'),
      siteDay('2027-03-14', 'America/Halifax', '02:30', '10:00'),
    );
    expect(new Date(shiftFromMin * 60_000).toISOString()).toBe('2027-03-14T06:00:00.000Z');
  });

  it('is read in zones that lie off the hour: St John’s 08:00 in June is 10:30 UTC, Kathmandu 02:15', () => {
    const at = (zone: string) => {
      const { shiftFromMin } = shiftOn(parseLocalDate('2027-06-15'), siteDay('2027-06-15', zone));
      return new Date(shiftFromMin * 60_000).toISOString().slice(11, 16);
    };
    expect(at('America/St_Johns')).toBe('10:30');
    expect(at('Asia/Kathmandu')).toBe('02:15');
  });

  it('of a far eastern site lies on the day before in UTC', () => {
    const auckland = siteDay('2027-06-15', 'Pacific/Auckland');
    const judged = on(auckland, workOf(step({ durationMin: 60 }, { rainMmPerHour: 0 })));
    expect(judged.steps[0]?.from).toBe('2027-06-14T20:00:00.000Z');
  });
});
