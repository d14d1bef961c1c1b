import { checkAnswer } from '../plan/check-answer.ts';
import { readPlanFile } from '../plan/read-plan-file.ts';
import { warningLines } from '../plan/warning-lines.ts';
import { badInputAnswer } from '../season-input/bad-input.ts';
import { openSeason, SEASON_HELP, SEASON_OPTIONS } from '../season-input/season-problem.ts';
import { type Command, type CommandAnswer, type CommandInput, UsageError } from './command.ts';

const EXIT_NOT_VALID = 1;
const EXIT_BAD_INPUT = 2;

export const checkCommand: Command = {
  name: 'check',
  summary:
    'Check a season file, or a plan against its season, by a checker that shares no code with the planner.',
  usage: '<season.json | season.xlsx | folder of CSV> [plan.json]',
  help: [
    '  A plan is held against every rule of libs/season/README.md, and every cent is worked out again. Give the same',
    '  --weather, --record, limits and --today as when it was made. A plan that passes keeps the rules of the planner; it is no',
    '  judgement of lifting, wind, electricity or law, which a licensed or competent person makes.',
    '',
    ...SEASON_HELP,
    '',
    '  Exit code: 0 nothing wrong, 1 the plan (or, without a plan, the season) is not valid, 2 the input of a check of a',
    '  plan cannot be used (or wrong arguments).',
    '',
  ],
  options: SEASON_OPTIONS,
  async run(input) {
    const [source, planPath, ...rest] = input.positionals;
    if (source === undefined || rest.length > 0) throw new UsageError('name a season and at most one plan');
    if (planPath === undefined) return await checkSeason(source, input);
    try {
      const season = await openSeason(source, input);
      return checkAnswer(season, readPlanFile(planPath), EXIT_NOT_VALID);
    } catch (error) {
      return badInputAnswer(error, EXIT_BAD_INPUT);
    }
  },
};

async function checkSeason(source: string, input: CommandInput): Promise<CommandAnswer> {
  try {
    const { problem, warnings } = await openSeason(source, input);
    return {
      facts: { outcome: 'valid', warnings },
      lines: [`the season file is sound: ${problem.jobs.length} jobs`, ...warningLines(warnings)],
    };
  } catch (error) {
    return badInputAnswer(error, EXIT_NOT_VALID);
  }
}
