import { DEFAULT_GUST_FACTOR } from '../../../../libs/weather/src/index.ts';
import { badInputAnswer } from '../season-input/bad-input.ts';
import { writeWholeFile } from '../season-input/plan-target.ts';
import { blockAnswer } from '../windows/block-windows.ts';
import { kitAnswer } from '../windows/kit-answer.ts';
import { kitWindows } from '../windows/kit-windows.ts';
import { oddsPicture, requirePictureTarget } from '../windows/odds-picture.ts';
import { openRecord, RECORD_HELP, RECORD_OPTIONS } from '../windows/open-record.ts';
import { seasonWork } from '../windows/season-work.ts';
import { DEFAULT_SHIFT, gustFactorOf, measureOf, shiftOf, zoneOf } from '../windows/window-options.ts';
import { kitStatements } from '../windows/window-statements.ts';
import {
  type Command,
  type CommandAnswer,
  type CommandInput,
  onePositional,
  optionalText,
  UsageError,
  wholeNumber,
} from './command.ts';

const KIT_ONLY = ['template', 'season', 'year', 'in-a-row', 'picture', 'all'];
const BLOCK_ONLY = ['max-wind', 'max-gust', 'max-rain', 'daylight', 'no-daylight'];

export const windowsCommand: Command = {
  name: 'windows',
  summary: 'Odds of dry, calm days for each date, from a file of hourly weather.',
  usage: '<file.epw | file.csv> --kit <kit>',
  help: [
    '  --kit <key or name>     whose outside steps and limits are held against the hours',
    '  --template <key>        another visit than the build of the kit',
    '  --season <season>       season file of the kit (default: the demo season of the program)',
    `  --shift <from-to>       hours of work on the clocks of the site (default: ${DEFAULT_SHIFT})`,
    '  --zone <IANA zone>      clocks of the site (default: by the coordinates of the file)',
    '  --year <n>              the year whose clocks the shift is read by (default: that of the season)',
    `  --gust-factor <n>       gust = mean wind x this where the file has no gust (default: ${DEFAULT_GUST_FACTOR})`,
    '  --in-a-row              outside days that follow each other must be good in a row; else a bad day puts the rest off',
    '  --picture <out.svg>     write the year as an odds calendar',
    '  --all                   every date, not only the months',
    ...RECORD_HELP,
    '',
    '  A check by hand, without a kit: a day is good if so many whole hours of the shift in a row are within the limits,',
    '  in the standard time of the file itself:',
    '  --block-hours <n>       so many hours in a row (1 to 24)',
    '  --max-wind <m/s>        highest mean wind     --max-gust <m/s>  highest gust     --max-rain <mm>  most rain in the hour',
    '  --daylight              only hours wholly between sunrise and sunset (default: --no-daylight, light or dark)',
    '',
    '  Exit code: 0 done, 1 the input cannot be used, 2 wrong arguments.',
    '',
  ],
  options: {
    kit: { type: 'string' },
    template: { type: 'string' },
    season: { type: 'string' },
    shift: { type: 'string' },
    year: { type: 'string' },
    'gust-factor': { type: 'string' },
    'in-a-row': { type: 'boolean' },
    picture: { type: 'string' },
    all: { type: 'boolean' },
    'block-hours': { type: 'string' },
    'max-wind': { type: 'string' },
    'max-gust': { type: 'string' },
    'max-rain': { type: 'string' },
    daylight: { type: 'boolean' },
    'no-daylight': { type: 'boolean' },
    ...RECORD_OPTIONS,
  },
  async run(input) {
    const file = onePositional(input, 'file of hourly weather');
    const kit = optionalText(input, 'kit');
    const isBlock = optionalText(input, 'block-hours') !== undefined;
    if (kit !== undefined && isBlock)
      throw new UsageError('either --kit, or --block-hours with limits; not both');
    if (kit === undefined && !isBlock)
      throw new UsageError(
        'say --kit with the kit to be built, or --block-hours with limits for a check by hand',
      );
    refuse(input, isBlock ? KIT_ONLY : BLOCK_ONLY, isBlock ? '--kit' : '--block-hours');
    try {
      return isBlock ? await runBlock(file, input) : await runKit(file, kit as string, input);
    } catch (error) {
      return badInputAnswer(error, 1);
    }
  },
};

function refuse({ values }: CommandInput, names: readonly string[], goesWith: string): void {
  const stray = names.find((name) => values[name] !== undefined);
  if (stray !== undefined) throw new UsageError(`--${stray} goes with ${goesWith}`);
}

async function runBlock(file: string, input: CommandInput): Promise<CommandAnswer> {
  const { fromMin, toMin } = shiftOf(input);
  const wind = { least: 0, most: 100, unit: 'm/s' };
  const rules = {
    shiftFromMin: fromMin,
    shiftToMin: toMin,
    blockHours: wholeNumber(input, 'block-hours', { min: 1, max: 24, fallback: 8 }),
    maxWindMps: measureOf(input, 'max-wind', wind),
    maxGustMps: measureOf(input, 'max-gust', wind),
    maxRainMm: measureOf(input, 'max-rain', { least: 0, most: 500, unit: 'mm' }),
    daylight: input.values['daylight'] === true,
  };
  const gustFactor = gustFactorOf(input, DEFAULT_GUST_FACTOR);
  if (rules.daylight && input.values['no-daylight'] === true)
    throw new UsageError('either --daylight or --no-daylight, not both');
  if (rules.maxWindMps === null && rules.maxGustMps === null && rules.maxRainMm === null)
    throw new UsageError('set at least one limit: --max-wind, --max-gust or --max-rain');
  if (rules.blockHours * 60 > toMin - fromMin)
    throw new UsageError(
      `${rules.blockHours} hours do not fit into the shift; lengthen --shift or lower --block-hours`,
    );
  return blockAnswer(await openRecord(file, input), rules, gustFactor);
}

async function runKit(file: string, kit: string, input: CommandInput): Promise<CommandAnswer> {
  const picture = optionalText(input, 'picture');
  const shift = shiftOf(input);
  const gustFactor = gustFactorOf(input, DEFAULT_GUST_FACTOR);
  const zone = zoneOf(input) ?? null;
  if (picture !== undefined) requirePictureTarget(picture);
  const season = seasonWork(input, kit);
  const year = wholeNumber(input, 'year', { min: 1970, max: 2100, fallback: season.year });
  const rules = { shift, zone, year, gustFactor, inARow: input.values['in-a-row'] === true };
  const opened = await openRecord(file, input);
  const windows = kitWindows(opened, season, rules);
  const statements = kitStatements(opened, season, rules, windows);
  const answer = kitAnswer(opened, season, rules, windows, statements, input.values['all'] === true);
  if (picture !== undefined) {
    writeWholeFile(picture, oddsPicture(opened, season, windows, statements));
    input.say(`odds calendar written to ${picture}`);
  }
  return answer;
}
