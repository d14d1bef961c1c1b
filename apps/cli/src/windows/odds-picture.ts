import fs from 'node:fs';
import path from 'node:path';
import { goodDayWords } from '../../../../libs/intake/src/index.ts';
import { oddsCalendarPicture } from '../../../../libs/weather/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import { type KitWindows, MOST_LOST_DAYS } from './kit-windows.ts';
import type { OpenedRecord } from './open-record.ts';
import type { SeasonWork } from './season-work.ts';
import { CAUTION, type Statement } from './window-statements.ts';

/** Throws PlainError when a picture cannot be written there: said before the work, not after. Only another SVG is replaced. */
export function requirePictureTarget(file: string): void {
  const stats = fs.statSync(file, { throwIfNoEntry: false });
  if (stats?.isDirectory()) throw new PlainError(`--picture ${file} is a folder; name a file in it`);
  if (!/\.svg$/i.test(file))
    throw new PlainError(`--picture ${file} is written as SVG; give it a name that ends in .svg`);
  const folder = path.dirname(path.resolve(file));
  try {
    fs.accessSync(folder, fs.constants.W_OK);
    if (stats) fs.accessSync(file, fs.constants.W_OK);
  } catch {
    throw new PlainError(
      `nothing can be written to ${stats ? file : folder}. Make the folder, or choose another place with --picture.`,
    );
  }
}

/** The odds calendar of a kit as an SVG document. */
export function oddsPicture(
  { file, record }: OpenedRecord,
  season: SeasonWork,
  windows: KitWindows,
  statements: readonly Statement[],
): string {
  const { basis, dates, kind, localStart } = windows;
  const years = basis.years === 1 ? 'one year' : `${basis.years} years`;
  const span =
    kind === 'typical-year'
      ? 'a typical year, its months taken from different years'
      : `${years} of hours, ${basis.firstDate} to ${basis.lastDate}`;
  return oddsCalendarPicture({
    rows: dates,
    title: `${season.kit.name}, at ${record.place.name}: odds of a good day`,
    subtitle: `Odds of a day on which the outside work can be done, for each date; from ${span}`,
    goodDay: goodDayWords({ work: season.work, shift: windows.clock }),
    // The picture has its own caution.
    statements: statements.filter(({ code }) => code !== CAUTION.code).map(({ words }) => words),
    source: `${path.basename(file)}${record.source && record.source !== 'not stated' ? ` (${record.source})` : ''}, ${record.place.lat}, ${record.place.lon}`,
    startBy: localStart,
    mostLostDays: MOST_LOST_DAYS,
  });
}
