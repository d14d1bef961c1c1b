import { describe, expect, it } from '@jest/globals';
import { seasonFile } from '../../../tests/builders/season-file.ts';
import { faultsBetweenRows, readSeasonFile } from './index.ts';

// biome-ignore lint/suspicious/noExplicitAny: the rows are made wrong on purpose
const loose = (): any => structuredClone(seasonFile());
const told = (file: unknown): unknown[] => {
  const result = readSeasonFile(file);
  return result.ok ? [] : result.faults.map(({ table, row, column, code }) => [table, row, column, code]);
};

describe('readSeasonFile', () => {
  it('answers with the season where nothing is wrong', () => {
    expect(readSeasonFile(loose())).toEqual({ ok: true, value: seasonFile() });
  });

  it('tells faults in cells and between rows at once', () => {
    const file = loose();
    file.sites[0].lat = 'north';
    file.sites[1].zone = 'America/halifax';
    file.crewMembers.push({ crew: 'larch', person: 'dot', role: 'hand', fromDay: '2027-05-01' });
    expect(told(file)).toEqual([
      ['sites', 1, 'lat', 'wrong-kind'],
      ['sites', 2, 'zone', 'unknown-zone'],
      ['crewMembers', 4, 'person', 'not-possible'],
    ]);
  });

  it('says of a cell once what is wrong with it, and judges no table whose rows are not sound', () => {
    const file = loose();
    file.sites[0].zone = 5;
    file.templateDays[0].hours = 'many';
    file.buildTemplates.push({ ...file.buildTemplates[0], key: 'without-days' });
    expect(told(file)).toEqual([
      ['sites', 1, 'zone', 'wrong-kind'],
      ['templateDays', 1, 'hours', 'wrong-kind'],
    ]);
    file.templateDays[0].hours = 8;
    expect(told(file)).toContainEqual(['buildTemplates', 3, 'key', 'not-possible']);
  });

  it.each([
    ['nothing', undefined],
    ['a list', []],
    ['rows that are no rows', { ...loose(), sites: [1, null, 'x'], jobs: 'none', season: 3 }],
  ])('bears what is no season file: %s', (_what, input) => {
    expect(told(input).length).toBeGreaterThan(0);
    expect(faultsBetweenRows(null, [])).toEqual([]);
  });
});
