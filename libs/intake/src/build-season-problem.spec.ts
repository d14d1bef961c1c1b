import { describe, expect, it } from '@jest/globals';
import { changeRows, seasonFile } from '../../../tests/builders/season-file.ts';
import { canonicalSeasonFile, type SeasonFile } from '../../contracts/src/index.ts';
import { hashOf, parseLocalDate, toDay } from '../../kernel/src/index.ts';
import { lostDaysTable } from '../../weather/src/index.ts';
import { buildSeasonProblem, type IntakeOptions, monthsOfArea, visitPattern } from './index.ts';

const sound = seasonFile();
const day = (date: string) => toDay(parseLocalDate(date));
const build = (file: SeasonFile, options?: IntakeOptions) => buildSeasonProblem(file, options);
const jobOf = (file: SeasonFile, key: string, options?: IntakeOptions) => {
  const found = build(file, options).problem.jobs.find((job) => job.id === key);
  if (!found) throw new Error(`no job ${key}`);
  return found;
};
const codes = (file: SeasonFile, options?: IntakeOptions) =>
  build(file, options).warnings.map(({ code, key }) => [code, key]);
const at = (mask: string | undefined, date: string) => mask?.charAt(day(date) - day('2027-05-03'));

describe('buildSeasonProblem', () => {
  it('takes head, horizon and disturbance from the file', () => {
    const { problem } = build(
      seasonFile({ season: { frozenUntil: '2027-05-07', nearDays: 21, nearFactor: 0.5 } }),
    );
    expect(problem).toMatchObject({
      currency: 'CAD',
      firstDay: day('2027-05-03'),
      lastDay: day('2027-07-30'),
      asOfDay: day('2027-04-26'),
      frozenUntil: day('2027-05-07'),
    });
    expect(problem.disturbance).toMatchObject({ nearDays: 21, nearFactor: 0.5 });
  });

  it('gives the same problem for the same season, in whatever order its rows stand', () => {
    const shuffled = Object.fromEntries(
      Object.entries(sound).map(([name, rows]) => [name, Array.isArray(rows) ? [...rows].reverse() : rows]),
    ) as SeasonFile;
    const hash = (file: SeasonFile) => hashOf(build(canonicalSeasonFile(file)).problem);
    expect(hash(shuffled)).toBe(hash(sound));
    expect(JSON.parse(JSON.stringify(build(sound).problem))).toEqual(build(sound).problem);
  });

  it('refuses a file with faults between its rows, and names them', () => {
    const bad = seasonFile({ jobKits: [] });
    expect(() => build(bad)).toThrow(
      expect.objectContaining({
        code: 'season-file-invalid',
        data: { faults: [expect.anything(), expect.anything()] },
      }),
    );
  });

  it('says from which day it looks when nobody else does', () => {
    const open = seasonFile({ season: { asOfDay: null } });
    expect(build(open, { today: '2027-04-01' }).problem.asOfDay).toBe(day('2027-04-01'));
    expect(codes(open)).toContainEqual(['as-of-day-assumed', 'small-2027']);
  });
});

describe('people and machines', () => {
  const { problem } = build(sound);

  it('work on their weekdays, less holidays and leave', () => {
    const crew = problem.crews[0];
    expect([
      at(crew?.works, '2027-05-03'),
      at(crew?.works, '2027-05-08'),
      at(crew?.works, '2027-05-24'),
    ]).toEqual(['1', '0', '0']);
    const cleo = problem.hands.find((hand) => hand.id === 'cleo');
    expect(cleo?.available).toHaveLength(89);
    expect([
      at(cleo?.available, '2027-06-11'),
      at(cleo?.available, '2027-06-14'),
      at(cleo?.available, '2027-06-18'),
      at(cleo?.available, '2027-06-19'),
    ]).toEqual(['1', '0', '0', '1']);
    const dot = problem.casualHands[0];
    expect([at(dot?.available, '2027-05-08'), at(dot?.available, '2027-05-09')]).toEqual(['1', '0']);
  });

  it('belong to a crew only from when to when the file says; a trainee sleeps away but is no hand', () => {
    const crewMembers = [
      ...changeRows(sound, 'crewMembers', { person: 'cleo' }, { toDay: '2027-05-31' }),
      { crew: 'larch', person: 'eli', role: 'trainee' as const, fromDay: '2027-05-10' },
    ];
    const people = [
      ...sound.people,
      { key: 'eli', name: 'Eli (invented)', language: 'en', kind: 'regular' as const },
    ];
    const crew = build(seasonFile({ crewMembers, people })).problem.crews[0];
    const cleo = crew?.members.find((member) => member.hand === 'cleo');
    expect([at(cleo?.belongs, '2027-05-31'), at(cleo?.belongs, '2027-06-01')]).toEqual(['1', '0']);
    expect(crew?.members.map((member) => member.hand)).toEqual(['ada', 'ben', 'cleo']);
    expect(crew?.heads).toBe(4);
  });

  it('hold tickets up to the day of expiry; one that does not expire lasts the season', () => {
    const tickets = problem.hands.flatMap((hand) => hand.tickets);
    expect(tickets).toEqual([
      { ticket: 'lead', validFrom: day('2025-01-01'), validTo: day('2027-12-31') },
      { ticket: 'telehandler', validFrom: day('2025-01-01'), validTo: day('2027-07-30') },
    ]);
  });

  it('are left out, aloud, when something that planning needs is unknown', () => {
    const people = changeRows(sound, 'people', { key: 'dot' }, { homeLat: null, dayCents: null });
    const file = seasonFile({ people });
    expect(build(file).problem.casualHands).toEqual([]);
    expect(build(file).warnings).toContainEqual(
      expect.objectContaining({ code: 'casual-hand-incomplete', data: { missing: 'homeLat,dayCents' } }),
    );
    expect(
      codes(seasonFile({ people: changeRows(sound, 'people', { key: 'dot' }, { travelPerKmCents: null }) })),
    ).toContainEqual(['casual-cost-assumed', 'dot']);
  });

  it('stand still while they are away or not inspected', () => {
    const lift = problem.lifts[0];
    expect([
      at(lift?.available, '2027-06-30'),
      at(lift?.available, '2027-07-01'),
      at(lift?.available, '2027-07-03'),
    ]).toEqual(['1', '0', '1']);
    const unit = problem.equipment[0];
    expect([at(unit?.usable, '2027-07-09'), at(unit?.usable, '2027-07-10')]).toEqual(['1', '0']);
    const unknown = seasonFile({ equipmentUnits: [{ ...sound.equipmentUnits[0]!, inspectedUntil: null }] });
    expect(build(unknown).problem.equipment[0]?.usable).not.toContain('1');
    expect(codes(unknown)).toContainEqual(['inspection-unknown', 'level-1']);
  });
});

describe('jobs', () => {
  it('are ready on the later of the day in the file and the day on which the last item is expected', () => {
    expect(jobOf(sound, 'gull-point').siteReadyFrom).toBe(day('2027-05-13'));
    expect(jobOf(sound, 'salt-marsh').siteReadyFrom).toBe(day('2027-05-17'));
    const readinessItems = changeRows(sound, 'readinessItems', { key: 'power' }, { expectedOn: null });
    expect(jobOf(seasonFile({ readinessItems }), 'gull-point').siteReadyFrom).toBe(day('2027-05-10'));
    expect(codes(seasonFile({ readinessItems }))).toContainEqual(['ready-day-unknown', 'gull-point']);
  });

  it('get their goods on the day in the file, else by their milestones at the chosen confidence', () => {
    expect(jobOf(sound, 'salt-marsh').goods).toEqual({
      warehouse: 'store',
      goodsFrom: day('2027-05-12'),
      deliveryLeadDays: 1,
      siteStorageDays: 3,
      bays: 2,
    });
    // Arrived 22 April; not released by the 26th, so 4 to 10 days after arrival, then 1 to 4 more.
    const cautious = jobOf(sound, 'gull-point', { goodsConfidence: 0.95 }).goods?.goodsFrom as number;
    const bold = jobOf(sound, 'gull-point', { goodsConfidence: 0.5 }).goods?.goodsFrom as number;
    expect(bold).toBeGreaterThanOrEqual(day('2027-04-27'));
    expect(cautious).toBeGreaterThan(bold);
    expect(cautious).toBeLessThanOrEqual(day('2027-05-06'));
  });

  it('wait for the slower of the consignment and its containers', () => {
    const late = { container: 'CSQU3054383', kind: 'readyToGo' as const, planned: '2027-06-15' };
    expect(
      jobOf(seasonFile({ milestones: [...sound.milestones, late] }), 'gull-point').goods?.goodsFrom,
    ).toBe(day('2027-06-15'));
  });

  it('stay unplanned, aloud, when nobody knows when the goods come', () => {
    const file = seasonFile({
      milestones: changeRows(sound, 'milestones', { kind: 'released' }, { highDays: null }),
    });
    expect(jobOf(file, 'gull-point').goods?.goodsFrom).toBe(day('2027-07-31'));
    expect(build(file).warnings).toContainEqual(
      expect.objectContaining({
        code: 'goods-day-unknown',
        data: { reason: 'duration-unknown', missing: 'lot-1,released' },
      }),
    );
    expect(codes(seasonFile({ consignmentJobs: [] }))).toContainEqual(['goods-day-unknown', 'gull-point']);
    const short = seasonFile({ milestones: sound.milestones.slice(0, 3) });
    expect(codes(short)).toContainEqual(['goods-chain-short', 'gull-point']);
  });

  it('keep closed days, promise, pin and published place', () => {
    const jobs = changeRows(
      sound,
      'jobs',
      { key: 'gull-point' },
      { pinnedCrew: 'larch', publishedStart: '2027-05-17', publishedCrew: 'larch' },
    );
    expect(jobOf(seasonFile({ jobs }), 'gull-point')).toMatchObject({
      siteClosedDays: ['2027-06-01', '2027-06-02', '2027-06-03', '2027-06-04'].map(day),
      promisedBy: day('2027-06-18'),
      pin: { start: null, crew: 'larch' },
      published: { start: day('2027-05-17'), crew: 'larch' },
      equipmentKinds: ['levelling-set'],
    });
  });
});

describe('the pattern of a visit', () => {
  it('is the template of its kit, as it stands', () => {
    expect(jobOf(sound, 'gull-point').pattern).toEqual([
      { outside: true, hours: 9, hands: 3, tickets: [{ ticket: 'lead', count: 1 }], liftType: null },
      { outside: false, hours: 6, hands: 2, tickets: [], liftType: null },
    ]);
  });

  it('of two kits puts outside work first, fills days up to the most hours and asks for the most of each', () => {
    const two = visitPattern(sound, ['wren-build', 'heron-build']);
    expect(two.siteDays.map(({ outside, hours, liftType }) => [outside, hours, liftType])).toEqual([
      [true, 9, null],
      [true, 9.5, 'handler'],
      [false, 6, null],
      [false, 8, null],
    ]);
    expect(two.maxGapDays).toBe(2);
    const long = visitPattern(sound, ['wren-build', 'heron-build'], 19);
    expect(long.siteDays).toEqual([
      {
        outside: true,
        hours: 18.5,
        hands: 3,
        tickets: [
          { ticket: 'lead', count: 1 },
          { ticket: 'telehandler', count: 1 },
        ],
        liftType: 'handler',
      },
      { outside: false, hours: 14, hands: 2, tickets: [], liftType: null },
    ]);
    const jobKits = [{ job: 'gull-point', kit: 'wren', count: 2 }, sound.jobKits[1]!];
    expect(jobOf(seasonFile({ jobKits }), 'gull-point').pattern).toHaveLength(4);
    expect(codes(seasonFile({ jobKits }))).toContainEqual(['kits-merged', 'gull-point']);
  });

  it("is the job's own template where it has one", () => {
    const jobs = changeRows(sound, 'jobs', { key: 'gull-point' }, { template: 'heron-build' });
    expect(jobOf(seasonFile({ jobs }), 'gull-point').pattern[0]?.liftType).toBe('handler');
  });
});

describe('weather and travel', () => {
  it('give each site and outside pattern the lost days of its area', () => {
    const { problem } = build(sound);
    expect(problem.jobs.map((job) => job.weatherTable)).toEqual(['area.coast:o', 'area.coast:o']);
    const answer = lostDaysTable(monthsOfArea(sound, 'coast'), [true], {
      firstDay: problem.firstDay,
      lastDay: problem.lastDay,
    });
    if (!answer.known) throw new Error('the area is complete');
    expect(problem.weatherTables['area.coast:o']).toEqual({
      expectedLostDays: answer.value.expectedLostDays,
      reserveDays: answer.value.reserveDays,
    });
  });

  it('give work that is all inside no table', () => {
    const templateDays = sound.templateDays.map((row) => ({ ...row, outside: false }));
    expect(jobOf(seasonFile({ templateDays }), 'gull-point').weatherTable).toBeNull();
  });

  it('hold back more days for a higher confidence', () => {
    const reserve = (reserveConfidence: number) =>
      build(sound, { reserveConfidence }).problem.weatherTables['area.coast:o']?.reserveDays[0] as number;
    expect(reserve(0.95)).toBeGreaterThan(reserve(0.5));
  });

  it('say aloud what was assumed of the weather', () => {
    const weatherMonths = changeRows(
      sound,
      'weatherMonths',
      { month: 5 },
      { windyDayShare: null, coldDayShare: null },
    );
    expect(
      build(seasonFile({ weatherMonths }))
        .warnings.filter(({ code }) => code === 'weather-assumed')
        .map(({ data }) => data),
    ).toEqual([
      { name: 'windyDayShare', months: '5' },
      { name: 'coldDayShare (from the mean temperature)', months: '5' },
    ]);
    const sites = changeRows(sound, 'sites', { key: 'gull-point' }, { weatherArea: null });
    expect(codes(seasonFile({ sites }))).toContainEqual(['weather-unknown', 'gull-point']);
    expect(jobOf(seasonFile({ sites }), 'gull-point').weatherTable).toBe('assumed:o');
  });

  it('prefer a table counted from the record of a station', () => {
    const weatherStations = [
      { key: 'cape', name: 'Cape (invented)', lat: 45, lon: -63, zone: 'America/Halifax' },
    ];
    const sites = changeRows(sound, 'sites', { key: 'gull-point' }, { weatherStation: 'cape' });
    const file = seasonFile({ weatherStations, sites });
    const month = {
      wetDayShare: null,
      wetAfterWet: null,
      windyDayShare: null,
      coldDayShare: null,
      badDayShare: 0.2,
      badAfterBad: 0.5,
      meanTempC: null,
    };
    const { problem } = build(file, { stationTables: { cape: new Array(12).fill(month) } });
    expect(problem.jobs[0]?.weatherTable).toBe('station.cape:o');
    // Share 0.2, then a wait that ends each day with chance 0.5.
    expect(problem.weatherTables['station.cape:o']?.expectedLostDays[0]).toBe(0.4);
    expect(build(file).problem.jobs[0]?.weatherTable).toBe('area.coast:o');
  });

  it('take known ways with their waiting, and estimate the others, aloud', () => {
    const { problem, warnings } = build(sound);
    const { places, driveMin, distanceKm } = problem.travel;
    const between = (table: readonly (readonly number[])[], from: string, to: string) =>
      table[places.indexOf(from)]?.[places.indexOf(to)];
    expect(places).toEqual(['yard', 'gull-point', 'salt-marsh', 'home:dot', 'depot:handler-1']);
    expect(between(driveMin, 'gull-point', 'yard')).toBe(95);
    expect(between(distanceKm, 'yard', 'gull-point')).toBe(110);
    expect(warnings).toContainEqual(
      expect.objectContaining({ code: 'travel-estimated', data: { estimated: 9, all: 10 } }),
    );
  });
});
