import fs from 'node:fs';
import { fromPlanFile } from '../../../../libs/contracts/src/plan-file.ts';
import { buildSeasonProblem } from '../../../../libs/intake/src/index.ts';
import { formatCents } from '../../../../libs/kernel/src/index.ts';
import { checkPlan } from '../../../../libs/season/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import { faultLines, readSeason } from '../season-io/read-season.ts';
import { type Command, type CommandAnswer, optionalText, UsageError } from './command.ts';

function readPlanFile(source: string) {
  try {
    return fromPlanFile(JSON.parse(fs.readFileSync(source, 'utf8')));
  } catch (error) {
    if (error instanceof SyntaxError) throw new PlainError(`${source} is not JSON: ${error.message}`);
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      throw new PlainError(`there is no file ${source}`);
    throw error;
  }
}

export const checkCommand: Command = {
  name: 'check',
  summary:
    'Check a season file, or a plan against its season, by a checker that shares no code with the planner.',
  usage: '<season.json | season.xlsx | folder of CSV> [plan.json]',
  help: [
    '  Exit code 1 when anything is wrong. A plan that passes keeps the rules of the planner; it is no judgement of',
    '  lifting, wind, electricity or law, which a licensed or competent person makes.',
    '',
    '  --today <date>        the day that the plan was made on (default: today)',
  ],
  options: { today: { type: 'string' } },
  async run(input): Promise<CommandAnswer> {
    const [seasonSource, planSource, ...rest] = input.positionals;
    if (seasonSource === undefined || rest.length > 0)
      throw new UsageError('name a season and at most one plan');
    const reading = readSeason(seasonSource);
    if (!reading.ok)
      return {
        facts: { valid: false, faults: reading.faults },
        lines: faultLines(reading.faults),
        exitCode: 1,
      };
    const today = optionalText(input, 'today') ?? new Date().toISOString().slice(0, 10);
    const { problem, warnings } = buildSeasonProblem(reading.file, { today });
    const oddLines = warnings.map(({ message }) => `- ${message}`);
    if (planSource === undefined) {
      return {
        facts: { valid: true, warnings },
        lines: [
          `the season file is sound: ${problem.jobs.length} jobs`,
          ...(oddLines.length > 0 ? ['odd or assumed:', ...oddLines] : []),
        ],
      };
    }
    const result = checkPlan(problem, readPlanFile(planSource));
    return {
      facts: { ...result, warnings },
      lines: result.valid
        ? [`the plan keeps every rule; it costs ${formatCents(result.totalCents, problem.currency)}`]
        : result.violations.map(({ rule, message }) => `rule ${rule}: ${message}`),
      exitCode: result.valid ? 0 : 1,
    };
  },
};
