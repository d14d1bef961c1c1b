import { describe, expect, it } from '@jest/globals';
import { seasonFile } from '../../../../tests/builders/season-file.ts';
import type { SeasonFile } from '../../../contracts/src/index.ts';
import { buildSeasonProblem, figureNeeds, figureTables, type WindowTables } from '../index.ts';

const YEARS = 6;

function season(changes: { wetDayShare?: number; hoursFromMonths?: boolean } = {}): SeasonFile {
  const { wetDayShare = 0.35, hoursFromMonths = true } = changes;
  const file = seasonFile({});
  const [area] = file.weatherAreas;
  if (!area) throw new Error('the season has no weather area');
  return {
    ...file,
    season: { ...file.season, hoursFromMonths },
    weatherMonths: Array.from({ length: 12 }, (_, at) => ({
      area: area.key,
      month: at + 1,
      wetDayShare,
      wetAfterWet: wetDayShare === 0 ? 0 : 0.5,
      windyDayShare: 0.05,
      coldDayShare: null,
      meanTempC: 15,
      meanWindMps: 3,
      rainMmPerMonth: null,
      source: 'made up',
    })),
  };
}

function tablesOf(file: SeasonFile): WindowTables {
  const tables = figureNeeds(file, new Map()).map((each) => figureTables(file, each, YEARS));
  return Object.assign({}, ...tables);
}

describe('hours with monthly figures', () => {
  it('are wanted only where the season asks for them and no record stands for the site', () => {
    expect(figureNeeds(season({ hoursFromMonths: false }), new Map())).toEqual([]);
    const wanted = figureNeeds(season(), new Map());
    expect(wanted.length).toBeGreaterThan(0);
    const sites = new Set(wanted.flatMap(({ needs }) => needs.map(({ site }) => site)));
    const [first] = sites;
    const fewer = figureNeeds(season(), new Map([[first as string, 'station.near']]));
    expect(fewer.flatMap(({ needs }) => needs.map(({ site }) => site))).not.toContain(first);
  });

  it('give the planner lost days that grow with the wet days, the same for the same figures, and say what they are', () => {
    const mean = (file: SeasonFile): number => {
      const { problem, warnings } = buildSeasonProblem(file, { windowTables: tablesOf(file) });
      const tables = Object.entries(problem.weatherTables).filter(([id]) => id.startsWith('record.'));
      expect(tables.length).toBeGreaterThan(0);
      const said = warnings.filter(({ code }) => code === 'weather-from-figures');
      expect(said.map(({ message }) => message).join(' ')).toContain(`${YEARS} made-up years`);
      expect(warnings.some(({ message }) => message.includes('made-up record of'))).toBe(true);
      const days = tables.flatMap(([, { expectedLostDays }]) => [...expectedLostDays]);
      return days.reduce((sum, lost) => sum + lost, 0) / days.length;
    };
    const dry = mean(season({ wetDayShare: 0.05 }));
    const wet = mean(season({ wetDayShare: 0.6 }));
    expect(wet).toBeGreaterThan(dry + 0.1);
    expect(mean(season({ wetDayShare: 0.6 }))).toBe(wet);
  });
});
