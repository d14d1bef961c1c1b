/** One day of an EPW file, read by a few lines that share nothing with the program. */
export interface DayByHand {
  readonly date: string;
  readonly longestRunHours: number;
  readonly good: boolean | null;
}

export interface BlockByHand {
  readonly fromHour: number;
  readonly toHour: number;
  readonly blockHours: number;
  readonly maxWindMps: number;
  readonly maxRainMm: number;
}

/**
 * The days of an EPW text with a block of workable hours. Hour 1 of a line is 00:00 to 01:00, wind speed is the 22nd field and liquid
 * precipitation depth the 34th, 999 is missing (EPW data dictionary, EnergyPlus documentation, Auxiliary Programs).
 */
export function epwDaysByHand(text: string, block: BlockByHand): DayByHand[] {
  const days = new Map<string, string>();
  for (const line of text.split('\n').slice(8)) {
    const f = line.split(',');
    if (f.length < 35) continue;
    const date = [f[0], f[1]?.padStart(2, '0'), f[2]?.padStart(2, '0')].join('-');
    const hour = Number(f[3]) - 1;
    if (hour < block.fromHour || hour + 1 > block.toHour) continue;
    const [wind, rain] = [Number(f[21]), Number(f[33])];
    const broken = (wind < 999 && wind > block.maxWindMps) || (rain < 999 && rain > block.maxRainMm);
    const mark = broken ? 'x' : wind >= 999 || rain >= 999 ? '?' : '.';
    days.set(date, (days.get(date) ?? '') + mark);
  }
  const longest = (marks: string, run: RegExp): number =>
    Math.max(0, ...(marks.match(run) ?? []).map(({ length }) => length));
  return [...days].map(([date, marks]) => {
    const longestRunHours = longest(marks, /\.+/g);
    const atBest = longest(marks, /[.?]+/g);
    const good = longestRunHours >= block.blockHours ? true : atBest >= block.blockHours ? null : false;
    return { date, longestRunHours, good };
  });
}
