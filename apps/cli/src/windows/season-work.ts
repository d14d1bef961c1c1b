import path from 'node:path';
import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { type IntakeWarning, visitWork } from '../../../../libs/intake/src/index.ts';
import type { VisitWork } from '../../../../libs/weather/src/index.ts';
import { type CommandInput, optionalText } from '../commands/command.ts';
import { PlainError } from '../program/plain-error.ts';
import { programRoot } from '../program/program-root.ts';
import { seasonFaults } from '../season-input/bad-input.ts';
import { readSeason } from '../season-io/read-season.ts';

/** The season file of the demo, which stands in where the user names none. */
const DEMO_SEASON = 'prisma/demo/larch-and-loon-2027.json';

/** The work of a kit, and from which season it was taken. */
export interface SeasonWork {
  readonly season: { readonly key: string; readonly source: string; readonly isDemo: boolean };
  readonly kit: { readonly key: string; readonly name: string };
  readonly template: { readonly key: string; readonly name: string };
  readonly work: VisitWork;
  readonly warnings: readonly IntakeWarning[];
  /** Year in which the season begins. */
  readonly year: number;
}

/** The outside work of the kit that `--kit` names. Throws PlainError or BadInput with what there is to choose from. */
export function seasonWork(input: CommandInput, kitName: string): SeasonWork {
  const named = optionalText(input, 'season');
  const source = named ?? path.join(programRoot(), DEMO_SEASON);
  const reading = readSeason(source);
  if (!reading.ok) throw seasonFaults(source, reading.faults);
  const { file } = reading;
  const wanted = kitName.toLowerCase();
  const kit =
    file.kits.find(({ key }) => key === kitName) ??
    file.kits.find(({ key, name }) => [key, name].some((text) => text.toLowerCase() === wanted));
  const where = named ?? 'the demo season';
  if (!kit)
    throw new PlainError(
      `${where} has no kit "${kitName}". It has: ${listOf(file.kits)}. Name one of these, or another season file with --season.`,
    );
  const template = templateOf(file, kit.key, optionalText(input, 'template'), where);
  const { work, warnings } = visitWork(file, template.key, kit.key);
  if (work.every((day) => day === null))
    throw new PlainError(
      `the template ${template.key} has no outside day, so no weather stops it. Name another one with --template.`,
    );
  return {
    season: { key: file.season.key, source: named ?? DEMO_SEASON, isDemo: file.season.isDemo },
    kit: { key: kit.key, name: kit.name },
    template: { key: template.key, name: template.name },
    work,
    warnings,
    year: Number(file.season.firstDay.slice(0, 4)),
  };
}

function templateOf(file: SeasonFile, kit: string, named: string | undefined, where: string) {
  const key =
    named ?? file.kitTemplates.find((row) => row.kit === kit && row.visitKind === 'build')?.template;
  const template = file.buildTemplates.find((row) => row.key === key);
  if (template) return template;
  const why = named
    ? `${where} has no template "${named}"`
    : `${where} says no build template for the kit ${kit}`;
  throw new PlainError(`${why}. Name one with --template: ${listOf(file.buildTemplates)}.`);
}

function listOf(rows: readonly { readonly key: string }[]): string {
  return rows.map(({ key }) => key).join(', ') || 'none';
}
