// Go or hold as a whole. Costs are added up by hand from the rates of the small season; the rule is Richardson 2000 (Q. J. R. Meteorol. Soc.
// 126, 649-667): hold when 1 - odds > cost of holding / cost of a failed start. Shares of members and weights: libs/weather.
import { describe, expect, it } from '@jest/globals';
import { changeRows, seasonFile } from '../../../../tests/builders/season-file.ts';
import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import {
  defaultLeadWeights,
  type Forecast,
  type HourValues,
  recordOf,
  type WindowRow,
} from '../../../weather/src/index.ts';
import { assembleBrief, type BriefForecast, type BriefInput } from '../index.ts';

const now = '2027-05-12T19:00:00.000Z' as Instant;
const day = '2027-05-13' as LocalDate;
const known = { tempC: 12, dewPointC: 5, rainMm: 0, windMps: 3, thunder: false };
const calm = { ...known, gustMps: 5 };
const place = { name: 'Gull Point', lat: 45.88, lon: -64.3, elevationM: null };

/** Runs of 72 hours from midnight UTC before the brief; `hoursOf` gives the weather of an hour of UTC on the day of the visit. */
function forecast(
  runs: readonly ((hour: number) => HourValues)[],
  issuedAt = '2027-05-12T18:00:00.000Z',
): Forecast {
  const members = runs.map((hoursOf) =>
    recordOf({
      place,
      source: 'test',
      standardOffsetMin: 0,
      typicalYear: false,
      start: '2027-05-12',
      hours: Array.from({ length: 72 }, (_, at) => (at < 24 || at >= 48 ? calm : hoursOf(at - 24))),
    }),
  );
  return { source: 'test', issuedAt: issuedAt as Instant, members };
}

const heard = (
  given: Forecast | null,
  heardAt: string | null = now,
  fault: string | null = null,
): BriefForecast => ({
  series: 'forecast.test',
  source: 'An invented service',
  heardAt: heardAt as Instant | null,
  fault,
  forecast: given,
});
const always = (hour: HourValues) => () => hour;
const dry = forecast([always(calm)]);
/** Gusts of 14 from 14:00 to 22:00 UTC, which is 11:00 to 19:00 on the clocks of the site. */
const gusty = (hour: number): HourValues => ({ ...calm, gustMps: hour >= 14 && hour < 22 ? 14 : 5 });
const records = { shrunkGoodShare: 0.6, years: 20 } as WindowRow;

function input(changes: Partial<BriefInput> = {}): BriefInput {
  return {
    file: seasonFile(),
    visit: {
      id: '6a1f2a52-0f0b-4c3e-9d5b-111111111111',
      job: 'gull-point',
      crew: 'larch',
      day,
      plannedHours: 9,
      endDay: '2027-05-14' as LocalDate,
      reserveDays: ['2027-05-17' as LocalDate],
      deliveryDay: '2027-05-11' as LocalDate,
      people: [
        { key: 'ada', role: 'lead' },
        { key: 'ben', role: 'hand' },
        { key: 'dot', role: 'casual' },
      ],
      lifts: [],
    },
    forecasts: [heard(dry)],
    records,
    weights: { single: defaultLeadWeights('single'), ensemble: defaultLeadWeights('ensemble') },
    now,
    ...changes,
  };
}
const codes = (changes: Partial<BriefInput>) => assembleBrief(input(changes)).reasons.map(({ code }) => code);

describe('a morning brief', () => {
  it('says go on a fresh dry forecast, with odds blended by the weight of its lead', () => {
    const brief = assembleBrief(input());
    expect(brief.advice).toBe('go');
    // One good run of one: (1 + 0.1) / (1 + 0.2); a single run a day ahead weighs 0.8 until it is fitted.
    const share = 1.1 / 1.2;
    expect(brief.odds).toMatchObject({ from: 'blend', weight: 0.8, weightBasis: 'default', recordYears: 20 });
    expect(brief.odds?.goodChance).toBeCloseTo(0.8 * share + 0.2 * 0.6, 12);
    expect(brief.limits).toEqual([]);
    expect(brief.forecast).toMatchObject({ state: 'fresh', leadDays: 1, ageHours: 1 });
    // 4 hours of sealing, 30 minutes of cure, 2 hours of raising, closed by the end of the shift at 19:00 (22:00 UTC).
    expect(brief.latestStart?.middle).toBe('2027-05-13T15:30:00.000Z');
  });

  it('says hold where the gusts break the limit of the load, and in which hours', () => {
    const brief = assembleBrief(input({ forecasts: [heard(forecast([gusty, gusty, gusty, always(calm)]))] }));
    expect(brief.advice).toBe('hold');
    expect(brief.odds?.members).toEqual({ good: 1, bad: 3, unknown: 0 });
    expect(brief.limits).toMatchObject([
      {
        limit: 'gustMps',
        limitValue: 8,
        steps: ['raise'],
        members: 3,
        ofMembers: 4,
        medianValue: 14,
        worstValue: 14,
        firstHour: '2027-05-13T14:00:00.000Z',
        hours: 8,
      },
    ]);
  });

  it('adds both sides up at the rates of the season', () => {
    const { failedStart, holding } = assembleBrief(input());
    const way = failedStart.parts.find(({ key }) => key === 'driving')?.cents as number;
    // The known way of the file is 110 km: 95 cents a km, there and back.
    expect(way).toBe(2 * 110 * 95);
    expect(failedStart.parts.filter(({ key }) => key !== 'driving')).toEqual([
      { key: 'crew-day', cents: 180_000 },
      { key: 'casual-hands', cents: 28_000 },
      { key: 'beds', cents: 2 * 14_000 },
      { key: 'travel-days', cents: 2 * 180_000 },
    ]);
    expect(failedStart.knownCents).toBe(180_000 + 28_000 + 28_000 + 360_000 + way);
    // A day is held back for weather, so nothing else has to move.
    expect(holding.parts).toEqual([
      { key: 'crew-day', cents: 120_000 },
      { key: 'casual-hands', cents: 28_000 },
      { key: 'beds', cents: 28_000 },
    ]);
    const visit = { ...input().visit, reserveDays: [], endDay: '2027-06-18' as LocalDate };
    const moved = assembleBrief(input({ visit })).holding.parts.slice(3);
    // Tomorrow of 28 near days: 1 + 2 x (1 - 1/28) times the cost of a move by a day; and a day late.
    expect(moved).toEqual([
      { key: 'moved-visit', cents: Math.round(17_500 * (1 + 2 * (27 / 28))) },
      { key: 'late', cents: 26_000 },
    ]);
  });

  it('prices the lift with its way, and names the last moment to call it off, or that nobody wrote it down', () => {
    const file = seasonFile();
    const withLift = { ...input().visit, job: 'salt-marsh', lifts: ['handler-1'] };
    const open = assembleBrief(input({ visit: withLift }));
    expect(open.holding.parts).toContainEqual({ key: 'lift-day', cents: 42_000 });
    expect(open.failedStart.parts.find(({ key }) => key === 'lift-delivery')?.cents).toBeGreaterThan(25_000);
    expect([open.deadline, open.deadlinesUnknown]).toEqual([null, ['Telehandler 1']]);
    const lifts = changeRows(
      file,
      'lifts',
      { key: 'handler-1' },
      { callOffHours: 18, callOffFeeCents: 30_000 },
    );
    const settled = assembleBrief(input({ file: seasonFile({ lifts }), visit: withLift }));
    // 18 hours before 08:00 in Halifax, where it is UTC-3 in May; an hour before the brief is made, so the fee counts.
    expect(settled.deadline).toEqual({
      at: '2027-05-12T17:00:00.000Z',
      past: true,
      what: 'Telehandler 1',
      feeCents: 30_000,
    });
  });

  it('lets a cost with an unknown part carry only the advice that it cannot overturn', () => {
    const visit = { ...input().visit, deliveryDay: day };
    // The truck of the day has no price: a failed start costs more than is known. Go is not certain, hold is.
    const go = assembleBrief(input({ visit }));
    expect([go.advice, go.reasons.map(({ code }) => code)]).toEqual([
      'cannot-say',
      expect.arrayContaining(['failed-start-cost-unknown']),
    ]);
    expect(go.failedStart.parts).toContainEqual({ key: 'truck', cents: null });
    expect(assembleBrief(input({ visit, forecasts: [heard(forecast([gusty]))] })).advice).toBe('hold');
    const file = seasonFile();
    const people = changeRows(file, 'people', { key: 'dot' }, { dayCents: null });
    const hold = assembleBrief(
      input({ file: seasonFile({ people }), forecasts: [heard(forecast([gusty]))] }),
    );
    expect(hold.advice).toBe('cannot-say');
  });

  it('never advises from a stale or missing forecast, and says since when there is none', () => {
    const old = assembleBrief(
      input({ forecasts: [heard(dry, '2027-05-12T05:00:00.000Z', 'It answered 503.')] }),
    );
    expect(old.advice).toBe('cannot-say');
    expect(old.forecast).toMatchObject({
      state: 'stale',
      heardAt: '2027-05-12T05:00:00.000Z',
      fault: 'It answered 503.',
    });
    expect(codes({ forecasts: [heard(dry, '2027-05-12T05:00:00.000Z')] })).toContain('forecast-stale');
    const issued = forecast([always(calm)], '2027-05-11T18:00:00.000Z');
    expect(codes({ forecasts: [heard(issued)] })).toContain('forecast-stale');
    expect(codes({ forecasts: [], records: null })).toEqual(
      expect.arrayContaining(['forecast-missing', 'odds-unknown']),
    );
    expect(assembleBrief(input({ forecasts: [heard(null, null)] })).advice).not.toBe('go');
  });

  it('takes hours that the forecast lacks as unknown, never as fair', () => {
    const blank = forecast([always({ ...known, rainMm: null, windMps: null, gustMps: null })]);
    const brief = assembleBrief(input({ forecasts: [heard(blank)], records: null }));
    expect([brief.advice, brief.odds]).toEqual(['cannot-say', null]);
  });

  it('goes by a fresh forecast before a stale one, and by many runs before one', () => {
    const many = forecast([gusty, gusty, always(calm)], '2027-05-12T12:00:00.000Z');
    expect(assembleBrief(input({ forecasts: [heard(dry), heard(many)] })).odds?.members?.bad).toBe(2);
    const silent = heard(many, '2027-05-12T02:00:00.000Z');
    expect(assembleBrief(input({ forecasts: [silent, heard(dry)] })).odds?.members?.bad).toBe(0);
  });

  it('looks at the hours of the shift on the clocks of the site, also where clocks are on the half hour', () => {
    const sites = changeRows(seasonFile(), 'sites', { key: 'gull-point' }, { zone: 'America/St_Johns' });
    const brief = assembleBrief(
      input({ file: seasonFile({ sites }), forecasts: [heard(forecast([gusty]))] }),
    );
    expect(brief.limits[0]?.firstHour).toBe('2027-05-13T14:00:00.000Z');
    // 18:30 UTC plus 2:30 is the end of the shift at 19:00 in St. John's, UTC-2:30 in summer: 6.5 hours of work end there.
    expect(assembleBrief(input({ file: seasonFile({ sites }) })).latestStart?.middle).toBe(
      '2027-05-13T15:00:00.000Z',
    );
  });
});
