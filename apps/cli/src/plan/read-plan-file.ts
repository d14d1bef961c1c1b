import { fromPlanFile, type PlanFileSource, planFileSchema } from '../../../../libs/contracts/src/index.ts';
import { BadInput } from '../season-input/bad-input.ts';
import { readNamedJson } from '../season-input/read-named-file.ts';

const MOST_BYTES = 100_000_000;

/** Reads a plan file into the planner's form. Throws BadInput with every fault in its shape, PlainError when it cannot be read at all. */
export function readPlanFile(file: string): PlanFileSource {
  const value = readNamedJson(file, 'plan file', MOST_BYTES);
  if ((value as { format?: unknown } | null)?.format === 'dryspell-season')
    throw new BadInput(`${file} is a season file, not a plan file. Name the plan second.`);
  const read = planFileSchema.safeParse(value);
  if (read.success) return fromPlanFile(read.data);
  const faults = read.error.issues.map(({ path, message }) => ({
    place: path.map((part) => (typeof part === 'number' ? part + 1 : String(part))).join(', ') || 'the file',
    table: '',
    row: 0,
    column: '',
    value: null,
    message: `${message}.`,
    expected: 'as the plan command writes it',
  }));
  throw new BadInput(`${file} is not a plan file that can be read; make the plan again or mend it`, faults);
}
