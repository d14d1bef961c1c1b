import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { type SeasonFile } from '../../../libs/contracts/src/index.ts';
import { dataFolder } from '../../builders/data-folder.ts';
import { epwText } from '../../builders/epw-file.ts';
import { seasonFile } from '../../builders/season-file.ts';
import { BUDGET, dryspell, facts, folder, inFolder, invented, removeFolder, save } from './plan-stage.ts';

let season: string;

beforeAll(() => {
  season = save('season.json', seasonFile());
});

afterAll(removeFolder);

describe('weather from an hourly file', () => {
  it('counts wet and windy days, rain and wind of each month', async () => {
    const epw = save('invented.epw', epwText(invented));
    const reading = await facts<{ rows: SeasonFile['weatherMonths']; workHours: number }>(
      'weather-months',
      epw,
      '--area',
      'coast',
    );
    // By hand: 2 wet days of 31, the first followed by a wet one, the second not; 7 m/s x 1.4 = 9.8 m/s, above 9, on one day.
    expect(reading.rows[0]).toMatchObject({
      area: 'coast',
      month: 1,
      wetDayShare: 0.0645,
      wetAfterWet: 0.5,
      windyDayShare: 0.0323,
      coldDayShare: null,
      meanTempC: 15,
      meanWindMps: 2,
      rainMmPerMonth: 4,
    });
    expect(reading.rows).toHaveLength(12);
    expect(reading.workHours).toBe(365 * 9);
    const looser = await facts<{ rows: SeasonFile['weatherMonths'] }>(
      'weather-months',
      epw,
      ...['--area', 'coast', '--gust-limit', '9.8', '--work-hours', '11-17'],
    );
    // A gust of just the limit is not above it, and the rain lies before the working hours.
    expect(looser.rows[0]).toMatchObject({ wetDayShare: 0, windyDayShare: 0 });
  });

  it('plans the same as with the rows pasted into the season, and the check needs the same file', async () => {
    const epw = save('invented.epw', epwText(invented));
    const option = ['--weather', `coast=${epw}`];
    const run = await dryspell('plan', season, ...BUDGET, ...option, '--out', inFolder('weather.json'));
    expect(run.code).toBe(0);
    expect(run.out).toContain('8760 hours read; 3285 of them in working hours');
    expect(run.out).toContain('working hours 8-17 local standard time');
    expect(run.out).toContain('gust = mean wind x 1.4');
    const { rows } = await facts<{ rows: SeasonFile['weatherMonths'] }>(
      'weather-months',
      epw,
      '--area',
      'coast',
    );
    const pasted = save('pasted.json', { ...seasonFile(), weatherMonths: rows });
    expect((await dryspell('check', pasted, inFolder('weather.json'))).code).toBe(0);
    expect((await dryspell('check', season, inFolder('weather.json'), ...option)).code).toBe(0);
    expect((await dryspell('check', season, inFolder('weather.json'))).code).toBe(1);
  }, 60_000);

  it('does not call days dry where rain is unknown or noted at night only', async () => {
    const without = save('no-rain.epw', epwText({ ...invented, rainMm: () => 999 }));
    const never = save('zero-rain.epw', epwText({ ...invented, rainMm: () => 0 }));
    const totals = save(
      'totals.epw',
      epwText({ rainMm: ({ dayOfMonth, hour }) => (dayOfMonth % 5 === 0 && hour === 20 ? 9 : 0) }),
    );
    for (const [file, why] of [
      [without, 'it has no rain'],
      [never, 'its rain is 0 through the whole year'],
      [totals, 'as if totals were noted at fixed times'],
    ]) {
      const run = await dryspell('plan', season, '--weather', `coast=${file}`);
      expect([file, run.code, run.out]).toEqual([file, 1, expect.stringContaining(String(why))]);
    }
    const wholeDay = await dryspell('weather-months', totals, '--area', 'coast', '--work-hours', '0-24');
    expect([wholeDay.code, wholeDay.out]).toEqual([0, expect.stringContaining('"wetDayShare":0.1935')]);
  });

  it('leaves bad lines out only when told to', async () => {
    const bad = epwText(invented).replace(/\n2023,1,2,5,0,/, '\n2023,1,2,25,0,');
    const file = save('bad-line.epw', bad);
    const refused = await dryspell('weather-months', file, '--area', 'coast');
    expect([refused.code, refused.out]).toEqual([1, expect.stringContaining('line 37: hour is not 1 to 24')]);
    const kept = await facts<{ badLineCount: number; hours: number }>(
      'weather-months',
      ...[file, '--area', 'coast', '--keep-good'],
    );
    expect(kept).toMatchObject({ badLineCount: 1, hours: 8759 });
  });

  it('refuses areas that are not there and files that are no EPW file', async () => {
    const epw = save('invented.epw', epwText(invented));
    const area = await dryspell('plan', season, '--weather', `moon=${epw}`);
    expect([area.code, area.out]).toEqual([1, expect.stringContaining('It has: coast.')]);
    for (const [file, words] of [
      [season, 'no LOCATION line'],
      [folder, 'is a folder'],
      [inFolder('none.epw'), 'there is no EPW weather file'],
    ]) {
      const run = await dryspell('weather-months', String(file), '--area', 'coast');
      expect([file, run.code, run.out]).toEqual([file, 1, expect.stringContaining(String(words))]);
    }
  });

  it('counts a real year as awk does, where the open data is present', async () => {
    const shared = dataFolder();
    const file = shared && path.join(shared, 'weather', 'USA_GA_Atlanta_722190_BESTEST.epw');
    if (!file || !fs.existsSync(file)) {
      process.stderr.write('not checked: the EPW file of Atlanta is not here (set DRYSPELL_DATA)\n');
      return;
    }
    const { rows } = await facts<{ rows: SeasonFile['weatherMonths'] }>(
      'weather-months',
      file,
      '--area',
      'x',
    );
    // Counted with awk from the hours that end at 9 to 17: days with an hour of 0.2 mm or more, and of wind x 1.4 above 9 m/s.
    expect(rows.map(({ wetDayShare }, at) => Math.round(wetDayShare * (DAYS[at] as number)))).toEqual(
      WET_DAYS,
    );
    expect(
      rows.map(({ windyDayShare }, at) => Math.round((windyDayShare as number) * (DAYS[at] as number))),
    ).toEqual(WINDY_DAYS);
  });

  it('plans with the odds of an hourly file, hour by hour, and the check needs the same file', async () => {
    const wet = save(
      'wet.epw',
      epwText({ rainMm: ({ dayOfMonth, hour }) => (dayOfMonth % 2 === 0 && hour > 7 && hour < 20 ? 2 : 0) }),
    );
    const option = ['--record', `coast=${wet}`];
    const run = await dryspell('plan', season, ...BUDGET, ...option, '--out', inFolder('record.json'));
    expect(run.code).toBe(0);
    expect(run.out).toMatch(
      /gull-point, salt-marsh is counted from the hourly record area\.coast: one year only, gusts of 100 %/,
    );
    expect((await dryspell('check', season, inFolder('record.json'), ...option)).code).toBe(0);
    expect((await dryspell('check', season, inFolder('record.json'))).code).toBe(1);
    const odd = await dryspell('plan', season, ...BUDGET, '--record', `nowhere=${wet}`);
    expect([odd.code, odd.err + odd.out]).toEqual([
      1,
      expect.stringMatching(/no site of .* has that key, that weather station or that weather area/),
    ]);
    const broken = save('broken.epw', 'LOCATION,x');
    const refused = await dryspell('plan', season, ...BUDGET, '--record', `coast=${broken}`);
    expect([refused.code, refused.err + refused.out]).toEqual([
      1,
      expect.stringMatching(/cannot be planned with/),
    ]);
  });
});

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const WET_DAYS = [4, 5, 4, 3, 6, 5, 4, 8, 3, 1, 3, 3];
const WINDY_DAYS = [17, 16, 23, 14, 8, 14, 5, 9, 7, 14, 14, 15];
