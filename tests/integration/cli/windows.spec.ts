import fs from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import type { SeasonRow } from '../../../libs/contracts/src/index.ts';
import { dataFileText } from '../../builders/data-folder.ts';
import { type DayByHand, epwDaysByHand } from '../../builders/epw-by-hand.ts';
import { epwText } from '../../builders/epw-file.ts';
import { seasonFile } from '../../builders/season-file.ts';
import { dryspell, facts, folder, inFolder, removeFolder, save } from './plan-stage.ts';

interface Row {
  readonly date: string;
  readonly good: boolean | null;
  readonly state: string | null;
  readonly goodShare: number;
  readonly lostDays: {
    readonly mean: number;
    readonly p50: number;
    readonly p80: number;
    readonly p95: number;
  };
  readonly years: number;
  readonly ownWeight: number;
  readonly latestStart: string | null;
}

interface Facts {
  readonly place: { readonly name: string };
  readonly rules: { readonly shift: object; readonly year: number };
  readonly basis: { readonly kind: string; readonly judgedDays: number };
  readonly statements: readonly { readonly code: string; readonly words: string }[];
  readonly rows: readonly Row[];
}

interface BlockFacts {
  readonly rows: readonly DayByHand[];
  readonly goodDays: number;
  readonly knownDays: number;
  readonly goodShare: number;
}

const BLOCK = ['--shift', '07:00-17:00', '--block-hours', '8', '--max-wind', '9', '--max-rain', '0.1'];
const BY_HAND = { fromHour: 7, toHour: 17, blockHours: 8, maxWindMps: 9, maxRainMm: 0.1 };

/** A season whose wren takes eight hours in one go, in any light, with the limits of `BLOCK`. */
function plainSeason(change: Partial<SeasonRow<'steps'>> = {}): string {
  const { steps, ...rest } = seasonFile();
  const first = steps[0] as SeasonRow<'steps'>;
  const limits = { meanWindLimitMps: 9, rainLimitMmPerHour: 0.1, needsDaylight: false, interruptible: false };
  const season = seasonFile({
    ...rest,
    steps: [{ ...first, key: 'build', durationMin: 480, ...limits, ...change }],
    stepPrecedence: [],
    stepTickets: [],
    stepEquipment: [],
  });
  return save('plain-season.json', season);
}

const codes = ({ statements }: Pick<Facts, 'statements'>): string[] => statements.map(({ code }) => code);

/** An invented year: rain on every fifth day at eleven, storm on every ninth, missing rain on every thirteenth. */
const invented = epwText({
  rainMm: ({ dayOfMonth, hour }) =>
    dayOfMonth % 5 === 0 && hour === 11 ? 0.4 : dayOfMonth % 13 === 0 && hour === 12 ? 999 : 0,
  windMps: ({ dayOfMonth, month, hour }) => (dayOfMonth % 9 === 0 || (month === 12 && hour > 9) ? 12 : 3),
});

let epw: string;
let season: string;

beforeAll(() => {
  epw = save('invented.epw', invented);
  season = plainSeason();
});

afterAll(removeFolder);

describe('windows by hand, without a kit', () => {
  it('has the same dates, runs and share as a few plain lines', async () => {
    const answer = await facts<BlockFacts>('windows', epw, ...BLOCK);
    const plain = epwDaysByHand(invented, BY_HAND);
    const [good, known] = [plain.filter((day) => day.good), plain.filter((day) => day.good !== null)];
    expect(answer).toMatchObject({
      code: 0,
      rows: plain,
      goodDays: good.length,
      knownDays: known.length,
      goodShare: good.length / known.length,
    });
    expect(known.length).toBeLessThan(365);
    const { out } = await dryspell('windows', epw, ...BLOCK);
    expect(out).toMatch(/2023-01-01 +10 h +yes\n/);
    expect(out).toMatch(/2023-01-13 +5 h +unknown\n/);
    expect(out).toContain(`${good.length} good days of ${known.length} known`);
    expect(out).toContain('light or dark');
  });

  it('keeps to daylight when asked to', async () => {
    const dark = await facts<BlockFacts>('windows', epw, ...BLOCK, '--no-daylight');
    const light = await facts<BlockFacts>('windows', epw, ...BLOCK, '--daylight');
    // 45.9 N, 64.3 W at UTC-4: in late December the sun is up from about 07:55 to 16:30, so whole hours 8 to 15.
    expect([dark.rows[7], light.rows[7]]).toMatchObject([{ longestRunHours: 10 }, { longestRunHours: 8 }]);
    expect(light.rows[180]).toEqual(dark.rows[180]);
  });

  it.each(['CHL_Santiago_855740_BESTEST.epw', 'USA_GA_Atlanta_722190_BESTEST.epw'])(
    'agrees with plain lines on %s, and so does a kit of one such step, where it is present',
    async (name) => {
      const text = dataFileText('weather', name);
      if (text === null) return;
      const file = save(name, text);
      const plain = epwDaysByHand(text, BY_HAND);
      const block = await facts<BlockFacts>('windows', file, ...BLOCK);
      expect(block.rows).toEqual(plain);
      expect(block.goodShare).toBe(plain.filter(({ good }) => good).length / 365);
      const zone = name.startsWith('CHL') ? 'Etc/GMT+4' : 'Etc/GMT+5';
      const kit = await facts<Facts>('windows', file, ...kitOptions(), '--zone', zone);
      expect(kit.rows.map(({ date, good }) => ({ date, good }))).toEqual(
        plain.map(({ date, good }) => ({ date, good })),
      );
      expect(kit.basis.kind).toBe('typical-year');
      expectSharesByHand(kit.rows, plain);
    },
    60_000,
  );
});

const kitOptions = (): string[] => ['--kit', 'wren', '--season', season, '--shift', '07:00-17:00'];

/**
 * Shares and lost days of each date from the days alone: dates within a week either side on a ring of 366, lost days of a visit as the days until the
 * first good one, and a quarter of the date's own figure with three quarters of its month's, as one year stands for 1 / (1 + 3).
 */
function expectSharesByHand(rows: readonly Row[], plain: readonly DayByHand[]): void {
  const cumulative = [0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335];
  const dateOf = plain.map(
    ({ date }) => (cumulative[Number(date.slice(5, 7)) - 1] as number) + Number(date.slice(8)),
  );
  const lost = plain.map((_, day) => {
    let wait = 0;
    while (wait < 60 && !plain[(day + wait) % plain.length]?.good) wait += 1;
    return wait;
  });
  const mean = (values: number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  rows.forEach((row, day) => {
    const near = plain.flatMap((_, other) => {
      const apart = Math.abs((dateOf[other] as number) - (dateOf[day] as number));
      return Math.min(apart, 366 - apart) <= 7 ? [other] : [];
    });
    const month = plain.flatMap(({ date }, other) =>
      date.slice(5, 7) === row.date.slice(5, 7) ? [other] : [],
    );
    expect(row.goodShare).toBeCloseTo(mean(near.map((other) => (plain[other]?.good ? 1 : 0))), 5);
    const own = mean(near.map((other) => lost[other] as number));
    const ofMonth = mean(month.map((other) => lost[other] as number));
    expect(row.lostDays.mean).toBeCloseTo(0.25 * own + 0.75 * ofMonth, 5);
    expect([row.years, row.ownWeight]).toEqual([1, 0.25]);
  });
}

describe('windows of a kit', () => {
  it('has a row a date of the one year, with local clock times', async () => {
    const answer = await facts<Facts>('windows', epw, ...kitOptions(), '--zone', 'America/Halifax');
    expect(answer.rows).toHaveLength(365);
    expect(answer.rows[0]).toMatchObject({
      date: '2023-01-01',
      good: true,
      state: 'good',
      latestStart: '09:00',
    });
    expect(answer.rows[4]).toMatchObject({
      date: '2023-01-05',
      good: false,
      state: 'bad',
      latestStart: null,
    });
    expect(answer.rows[12]).toMatchObject({ date: '2023-01-13', good: null, state: 'unknown' });
    // In July clocks on site are an hour ahead of the file: 07:00 to 17:00 there are 06:00 to 16:00 in it.
    expect(answer.rows[181]).toMatchObject({ date: '2023-07-01', latestStart: '09:00' });
    // Nobody knows the night after the last day.
    expect(answer.rows[364]).toMatchObject({ date: '2023-12-31', good: null });
    expect(answer.rules).toMatchObject({
      year: 2027,
      shift: { from: '07:00', to: '17:00', zone: 'America/Halifax' },
    });
    expect(codes(answer)).toEqual(
      expect.arrayContaining([
        'few-years',
        'gust-estimated',
        'thunder-unknown',
        'unknown-days',
        'planning-aid',
      ]),
    );
  });

  it('takes the zone at the place of the file and the demo season when nothing is named, and says both', async () => {
    const answer = await facts<Facts>('windows', epw, '--kit', 'wren dome, 2.8 m');
    expect(answer.rules).toMatchObject({
      year: 2027,
      shift: { zone: 'America/Halifax', from: '08:00', to: '18:00' },
    });
    expect(codes(answer)).toEqual(expect.arrayContaining(['demo-season', 'clock']));
    const { out } = await dryspell('windows', epw, '--kit', 'wren');
    expect(out).toContain('an invented demo season; name your own with --season');
    expect(out).toContain('the zone at the place of the file, in 2027');
    expect(out).toMatch(/month +good +over two days +bad +unknown/);
    expect(out).not.toContain('2023-07-01');
    expect((await dryspell('windows', epw, '--kit', 'wren', '--all')).out).toMatch(/\n2023-07-01 +good/);
  });

  it('gives odds of dates of many years from a table, with the years behind them', async () => {
    const lines = ['time,wind (m/s),gust (m/s),rain (mm)'];
    for (let hour = 0; hour < 24 * 365 * 3; hour += 1) {
      const time = new Date(Date.UTC(2021, 0, 1, hour)).toISOString().slice(0, 13);
      // Rain through the first year, none in the others.
      lines.push(`${time}:00-04:00,3,4,${hour < 24 * 365 ? 1 : 0}`);
    }
    const file = save('three-years.csv', lines.join('\n'));
    const answer = await facts<Facts>('windows', file, ...kitOptions(), '--place', '45.9,-64.3');
    expect(answer.basis.kind).toBe('many-years');
    expect(answer.rows).toHaveLength(366);
    const [july] = answer.rows.filter(({ date }) => date === '07-01');
    expect(july).toMatchObject({ good: null, state: null, years: 3, ownWeight: 0.5, latestStart: '09:00' });
    expect(july?.goodShare).toBeCloseTo(2 / 3, 5);
    expect(codes(answer)).not.toContain('gust-estimated');
    const { out } = await dryspell('windows', file, ...kitOptions(), '--place', '45.9,-64.3');
    expect(out).toMatch(/July +67 % +67 % to 67 %/);
    const homeless = await dryspell('windows', file, ...kitOptions());
    expect([homeless.code, homeless.out]).toEqual([
      1,
      expect.stringContaining('Say it with --place LAT,LON.'),
    ]);
  }, 60_000);

  it('says what speaks against a file: totals at fixed hours, lines left out, lifts without a limit', async () => {
    const totals = save(
      'totals.epw',
      epwText({ rainMm: ({ dayOfMonth, hour }) => (dayOfMonth % 5 === 0 && hour === 20 ? 9 : 0) }),
    );
    expect(codes(await facts<Facts>('windows', totals, ...kitOptions()))).toContain('rain-at-fixed-hours');
    const bad = save('bad.epw', invented.replace(/\n2023,1,2,5,0,/, '\n2023,1,2,25,0,'));
    const kept = await facts<Facts>('windows', bad, ...kitOptions(), '--keep-good');
    expect(codes(kept)).toEqual(expect.arrayContaining(['bad-lines', 'gaps']));
    // Cut at the end of a line nothing is bad, but the last day is not whole.
    const cut = save('ends.epw', invented.split('\n').slice(0, 3000).join('\n'));
    const answer = await facts<Facts>('windows', cut, ...kitOptions());
    expect(codes(answer)).toContain('ends-in-a-day');
    const hours = save('hours.epw', invented.split('\n').slice(0, 18).join('\n'));
    expect(codes(await facts<Facts>('windows', hours, ...kitOptions()))).toContain('nothing-known');
    season = plainSeason({ meanWindLimitMps: null, loadHeightM: 4 });
    expect(codes(await facts<Facts>('windows', epw, ...kitOptions()))).toContain('lift-limit-assumed');
    season = plainSeason({ durationMin: 720 });
    expect(codes(await facts<Facts>('windows', epw, ...kitOptions()))).toContain('work-longer-than-shift');
    season = plainSeason();
  });

  it('writes the year as a picture', async () => {
    const picture = inFolder('odds.svg');
    const run = await dryspell('windows', epw, ...kitOptions(), '--picture', picture);
    expect([run.code, run.err]).toEqual([0, expect.stringContaining(`odds calendar written to ${picture}`)]);
    const svg = fs.readFileSync(picture, 'utf8');
    expect(svg).toMatch(/^<svg .*role="img"/);
    expect(svg).toContain('Wren dome, at Gull Point (invented), CAN: odds of a good day');
    expect(svg).toContain('Source: invented.epw (Invented), 45.9, -64.3');
  });
});

describe('bad input', () => {
  it.each<[string, () => string[], string]>([
    ['a file of another kind', () => [season, ...kitOptions()], 'it looks like a JSON document'],
    [
      'a packed file',
      () => [save('packed.gz', '\u001f\u008b\u0008 packed'), ...kitOptions()],
      'unpack it first).',
    ],
    ['no file', () => [inFolder('none.epw'), ...kitOptions()], 'Check the path.'],
    ['a folder', () => [folder, ...kitOptions()], 'name the weather file itself'],
    ['an unknown kit', () => [epw, '--kit', 'roc', '--season', season], 'It has: wren, heron.'],
    [
      'an unknown template',
      () => [epw, ...kitOptions(), '--template', 'roc'],
      'Name one with --template: wren-build',
    ],
    [
      'a picture nowhere',
      () => [epw, ...kitOptions(), '--picture', '/nowhere/at/all.svg'],
      'choose another place with --picture',
    ],
    [
      'a picture of another kind',
      () => [epw, ...kitOptions(), '--picture', inFolder('odds.png')],
      'ends in .svg',
    ],
    [
      'a file cut short in a line',
      () => [save('cut.epw', invented.slice(0, 300_000)), ...kitOptions()],
      'the line is cut short',
    ],
  ])('tells %s in one line, with what to do', async (_, args, words) => {
    const { code, out } = await dryspell('windows', ...args());
    expect([code, out]).toEqual([1, expect.stringContaining(words)]);
    expect(out.trim().split('\n')).toHaveLength(1);
  });

  it('names wrong arguments with the help, exit code 2', async () => {
    for (const [args, words] of [
      [[epw], 'say --kit with the kit to be built, or --block-hours'],
      [[epw, '--kit', 'wren', ...BLOCK], 'not both'],
      [
        [epw, '--kit', 'wren', '--shift', '17:00-07:00'],
        '--shift is the start and the end of work on one day',
      ],
      [[epw, '--kit', 'wren', '--shift', '7-25'], '--shift is the start and the end of work on one day'],
      [[epw, '--kit', 'wren', '--zone', 'Moon/Crater'], '--zone is a time zone such as America/Halifax'],
      [[epw, '--kit', 'wren', '--max-wind', '9'], '--max-wind goes with --block-hours'],
      [[epw, '--block-hours', '8', '--max-wind', '9', '--picture', 'x.svg'], '--picture goes with --kit'],
      [[epw, '--block-hours', '8'], 'set at least one limit'],
      [[epw, '--block-hours', '12', '--max-wind', '9'], '12 hours do not fit into the shift'],
      [[epw, '--block-hours', '8', '--max-wind', 'calm'], '--max-wind is a number from 0 to 100 m/s'],
    ] as [string[], string][]) {
      const { code, err } = await dryspell('windows', ...args);
      expect([args, code, err]).toEqual([args, 2, expect.stringContaining(words)]);
    }
  });
});
