import { parseArgs } from 'node:util';
import { plainLine } from '../program/plain-error.ts';
import { programVersion } from '../program/program-root.ts';
import { type Command, UsageError } from './command.ts';

const COMMON = {
  help: { type: 'boolean', short: 'h' },
  json: { type: 'boolean' },
  data: { type: 'string' },
} as const;

const COMMON_HELP = [
  '  --data <folder>       the data folder (default: .dryspell beside the program); not used with DATABASE_URL',
  '  --json                the answer as JSON on stdout',
  '  --help                this text',
];

export interface Streams {
  out(text: string): void;
  err(text: string): void;
}

function listOf(commands: readonly Command[]): string {
  const width = Math.max(...commands.map(({ name }) => name.length));
  return [
    'npm run dryspell -- <command> [options]',
    '',
    ...commands.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`),
    '',
    'Each command has --help and --json. Dryspell itself is started with npm start.',
  ].join('\n');
}

function helpOf(command: Command): string {
  const head = `npm run dryspell -- ${[command.name, command.usage, '[options]'].filter(Boolean).join(' ')}`;
  return [head, '', command.summary, '', ...command.help, ...COMMON_HELP].join('\n');
}

function find(
  commands: readonly Command[],
  args: readonly string[],
): { command: Command; rest: string[] } | undefined {
  for (const words of [2, 1]) {
    const name = args.slice(0, words).join(' ');
    const command = commands.find((candidate) => candidate.name === name);
    if (command !== undefined) return { command, rest: args.slice(words) };
  }
  return undefined;
}

/**
 * Runs the command that the arguments name. Resolves to the exit code: 0 done, 1 not done or something found,
 * 2 wrong arguments.
 */
export async function runCommand(
  commands: readonly Command[],
  args: readonly string[],
  environment: Readonly<Record<string, string | undefined>>,
  streams: Streams,
): Promise<number> {
  const [first] = args;
  if (first === undefined || first === 'help' || first === '--help' || first === '-h') {
    streams.out(listOf(commands));
    return 0;
  }
  if (first === '--version') {
    streams.out(programVersion());
    return 0;
  }
  const found = find(commands, args);
  if (found === undefined) {
    streams.err(`there is no command "${args.slice(0, 2).join(' ')}"\n\n${listOf(commands)}`);
    return 2;
  }
  const { command, rest } = found;
  try {
    const { values, positionals } = parseCommand(command, rest);
    if (values['help'] === true) {
      streams.out(helpOf(command));
      return 0;
    }
    const answer = await command.run({
      positionals,
      values,
      environment,
      say: (line) => streams.err(`· ${line}`),
    });
    streams.out(values['json'] === true ? JSON.stringify(answer.facts, null, 2) : answer.lines.join('\n'));
    return answer.exitCode ?? 0;
  } catch (error) {
    if (error instanceof UsageError) {
      streams.err(`${error.message}\n\n${helpOf(command)}`);
      return 2;
    }
    streams.err(plainLine(error));
    return 1;
  }
}

function parseCommand(command: Command, rest: string[]) {
  try {
    return parseArgs({
      args: rest,
      options: { ...command.options, ...COMMON },
      allowPositionals: true,
      strict: true,
    });
  } catch (error) {
    throw new UsageError(plainLine(error));
  }
}
