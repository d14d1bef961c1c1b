import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import {
  buildSeasonProblem,
  checkSeasonFile,
  type IntakeWarning,
  type WindowTables,
} from '../../../../libs/intake/src/index.ts';
import { instantFromMs, isLocalDate, localDateAt } from '../../../../libs/kernel/src/index.ts';
import type { SeasonProblem } from '../../../../libs/season/src/index.ts';
import { geodesicKm } from '../../../../libs/travel/src/index.ts';
import { type CommandInput, type OptionDefinitions, optionalText, UsageError } from '../commands/command.ts';
import { faultInTables, readSeason } from '../season-io/read-season.ts';
import { BadInput, seasonFaults } from './bad-input.ts';
import { withFigures } from './figure-tables.ts';
import { recordWindows } from './record-windows.ts';
import { LIMIT_HELP, LIMIT_OPTIONS, limitsOf, readingPolicyOf } from './weather-limits.ts';
import { readWeatherMonths, type WeatherReading } from './weather-months.ts';

/** A season ready for the planner or the check, and everything that was read and assumed on the way. */
export interface NamedSeason {
  readonly file: SeasonFile;
  readonly problem: SeasonProblem;
  readonly warnings: readonly IntakeWarning[];
  readonly weather: readonly WeatherReading[];
  /** Set where the file leaves open from which day the season is looked at, and the command took today. */
  readonly todayTaken: string | null;
}

export const SEASON_OPTIONS: OptionDefinitions = {
  weather: { type: 'string', multiple: true },
  record: { type: 'string', multiple: true },
  today: { type: 'string' },
  ...LIMIT_OPTIONS,
};

export const SEASON_HELP: readonly string[] = [
  '  --weather <area>=<file.epw>  the months of a weather area are counted from an hourly EPW file for this run;',
  '                          may be given once for each area. Months that the file cannot tell stay as they are.',
  ...LIMIT_HELP,
  '  --record <key>=<file>   the weather of a site, of a weather station or of a weather area comes hour by hour from a file for this',
  '                          run: lost days and reserve of each job from the limits of its steps; may be given several times.',
  '  --today <date>          the day that the plan is made on, where the season file leaves it open (default: today)',
];

/** Reads a season and builds its problem. Throws BadInput with all faults, PlainError or UsageError. */
export async function openSeason(source: string, input: CommandInput): Promise<NamedSeason> {
  const reading = readSeason(source);
  if (!reading.ok) throw seasonFaults(source, reading.faults);
  const windowTables = await recordWindows(reading.file, source, input);
  return buildSeason(reading.file, source, input, windowTables);
}

/** The same for a season that is at hand, with the odds of its records; `source` names it in messages. */
export function buildSeason(
  given: SeasonFile,
  source: string,
  input: CommandInput,
  windowTables: WindowTables,
): NamedSeason {
  const wanted = weatherOptions(input);
  const limits = limitsOf(input);
  const asked = optionalText(input, 'today');
  if (asked !== undefined && !isLocalDate(asked))
    throw new UsageError(`--today is a date such as 2027-04-12; got "${asked}"`);
  for (const { area } of wanted) {
    if (given.weatherAreas.some((row) => row.key === area)) continue;
    const known = given.weatherAreas.map((row) => row.key).join(', ') || 'none';
    throw new BadInput(
      `--weather names the weather area "${area}", which ${source} does not have. It has: ${known}.`,
    );
  }
  const weather = wanted.map(({ area, epw }) =>
    withDistance(given, readWeatherMonths(epw, area, limits, readingPolicyOf(input))),
  );
  const file = withMonths(given, weather);
  const faults = checkSeasonFile(file);
  if (faults.length > 0) throw seasonFaults(source, faults.map(faultInTables));
  const isOpen = !file.season.asOfDay;
  const today = asked ?? localDateAt(instantFromMs(Date.now()), file.season.zone);
  const { problem, warnings } = buildSeasonProblem(file, {
    today,
    windowTables: withFigures(file, windowTables, input.say),
  });
  return { file, problem, warnings, weather, todayTaken: isOpen && asked === undefined ? today : null };
}

function weatherOptions({ values }: CommandInput): { area: string; epw: string }[] {
  const given = values['weather'];
  const pairs = (Array.isArray(given) ? given : []).map((text) => {
    const parts = /^([^=]+)=(.+)$/.exec(String(text));
    if (!parts) throw new UsageError(`--weather is written AREA=FILE.epw; got "${text}"`);
    return { area: parts[1] as string, epw: parts[2] as string };
  });
  const twice = pairs.find(({ area }, at) => pairs.findIndex((pair) => pair.area === area) < at);
  if (twice) throw new UsageError(`--weather names the area "${twice.area}" twice`);
  return pairs;
}

/** Notes how far the record was taken from the sites that it now stands for. */
function withDistance(file: SeasonFile, reading: WeatherReading): WeatherReading {
  const farthest = file.sites
    .filter((site) => site.weatherArea === reading.area)
    .map((site) => ({ name: site.name, km: Math.round(geodesicKm(reading.place, site)) }))
    .sort((a, b) => b.km - a.km)[0];
  const note = farthest
    ? `the farthest site of ${reading.area}, ${farthest.name}, is ${farthest.km} km from where it was recorded; judge whether it stands for it`
    : `no site of the season names the weather area ${reading.area}, so this changes nothing`;
  return { ...reading, notes: [note, ...reading.notes] };
}

function withMonths(file: SeasonFile, weather: readonly WeatherReading[]): SeasonFile {
  const read = new Set(weather.flatMap(({ rows }) => rows.map((row) => `${row.area} ${row.month}`)));
  const kept = file.weatherMonths.filter((row) => !read.has(`${row.area} ${row.month}`));
  return { ...file, weatherMonths: [...kept, ...weather.flatMap(({ rows }) => rows)] };
}
