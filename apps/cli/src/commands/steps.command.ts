import path from 'node:path';
import { rngFromSeed } from '../../../../libs/kernel/src/index.ts';
import { criticalPathLength, readPsplib, searchProject } from '../../../../libs/visit/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import { readNamedText } from '../season-input/read-named-file.ts';
import { type Command, onePositional, wholeNumber } from './command.ts';

const MOST_BYTES = 10_000_000;
const MOST_SCHEDULES = 10_000_000;

export const stepsCommand: Command = {
  name: 'steps',
  summary: 'Schedule the steps of a project file with shared resources, as short as can be found.',
  usage: '<file.sm>',
  help: [
    '  --schedules <n>         schedules to make, forward and backward ones counted alike (default: 50000)',
    '  --seed <n>              same file, seed and number of schedules: same answer (default: 1)',
    '',
    '  The file is a project in the public single-mode PSPLIB format (.sm). Times are in the units of the file.',
    '',
  ],
  options: { schedules: { type: 'string' }, seed: { type: 'string' } },
  async run(input) {
    const file = onePositional(input, 'project file');
    const schedules = wholeNumber(input, 'schedules', { min: 1, max: MOST_SCHEDULES, fallback: 50_000 });
    const seed = wholeNumber(input, 'seed', { min: 0, max: 2 ** 31, fallback: 1 });
    const read = readPsplib(readNamedText(file, 'project file', MOST_BYTES));
    if (!read.ok)
      throw new PlainError(
        `${file} is no project that can be read (line ${read.problem.line}: ${read.problem.reason}). Name a single-mode .sm file.`,
      );
    const found = searchProject(read.value, { schedules, rng: rngFromSeed(seed) });
    const starts = Array.from(found.starts);
    const facts = {
      file: path.basename(file),
      activities: starts.length,
      makespan: found.makespan,
      lowerBound: found.lowerBound,
      criticalPath: criticalPathLength(read.value),
      proved: found.makespan === found.lowerBound,
      schedules: found.schedules,
      seed,
      starts,
    };
    const end = facts.proved
      ? 'which no schedule beats'
      : `no schedule is shorter than ${found.lowerBound}, and this one may be the shortest all the same`;
    return {
      facts,
      lines: [
        `${facts.file}: ${starts.length} activities in ${found.makespan}, ${end}`,
        ...starts.map((start, at) => `  ${at + 1} starts at ${start}`),
      ],
    };
  },
};
