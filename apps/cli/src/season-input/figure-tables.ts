import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { figureNeeds, figureTables, type WindowTables } from '../../../../libs/intake/src/index.ts';

/**
 * The odds by date of a season's records, with those of made-up hours for the sites that no record stands for, where the season asks for it. `say` is
 * told of each area before its years are made: that takes a while.
 */
export function withFigures(
  file: SeasonFile,
  ofRecords: WindowTables,
  say: (line: string) => void,
): WindowTables {
  const recordOfSite = new Map(
    file.jobs.flatMap(({ key, site }) => {
      const table = ofRecords[key];
      return table ? [[site, table.record] as const] : [];
    }),
  );
  let tables = ofRecords;
  for (const needs of figureNeeds(file, recordOfSite)) {
    say(`making up hours with the monthly figures of ${needs.area}`);
    tables = { ...figureTables(file, needs), ...tables };
  }
  return tables;
}
