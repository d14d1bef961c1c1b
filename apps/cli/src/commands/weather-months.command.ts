import { badInputAnswer } from '../season-input/bad-input.ts';
import { LIMIT_HELP, LIMIT_OPTIONS, limitsOf, readingPolicyOf } from '../season-input/weather-limits.ts';
import { readingLines, readWeatherMonths } from '../season-input/weather-months.ts';
import { type Command, onePositional, requiredText } from './command.ts';

export const weatherMonthsCommand: Command = {
  name: 'weather-months',
  summary: 'Count the weather of twelve months from an hourly EPW file, as rows for a season file.',
  usage: '<file.epw>',
  help: [
    '  --area <key>            the weather area that the rows are for',
    ...LIMIT_HELP,
    '',
    '  The rows go into the table weatherMonths of a season file; --json prints them with what was read.',
    '',
  ],
  options: { area: { type: 'string' }, ...LIMIT_OPTIONS },
  async run(input) {
    const file = onePositional(input, 'EPW file');
    const area = requiredText(input, 'area');
    const limits = limitsOf(input);
    try {
      const reading = readWeatherMonths(file, area, limits, readingPolicyOf(input));
      for (const line of readingLines(reading)) input.say(line);
      return { facts: reading, lines: reading.rows.map((row) => JSON.stringify(row)) };
    } catch (error) {
      return badInputAnswer(error, 1);
    }
  },
};
