import { systemActor } from '../../../../libs/data/src/actor.ts';
import {
  applyImport,
  type ImportReport,
  planImport,
} from '../../../../libs/data/src/season-import.repository.ts';
import { faultInTables, faultLines, readSoundSeason } from '../season-io/read-season.ts';
import { type Command, type CommandAnswer, onePositional } from './command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

function changeLines(report: ImportReport): string[] {
  const rows = Object.entries(report.tables).flatMap(([table, change]) => {
    const parts = (['added', 'changed', 'removed'] as const)
      .filter((kind) => change[kind].length > 0)
      .map((kind) => `${change[kind].length} ${kind}`);
    return parts.length === 0 ? [] : [`${table}: ${parts.join(', ')}`];
  });
  return rows.length === 0 && report.seasonState === 'unchanged' ? ['nothing differs'] : rows;
}

function answer(report: ImportReport, name: string, isDryRun: boolean): CommandAnswer {
  if (!report.ok) {
    const lines = faultLines(report.faults.map(faultInTables));
    return { facts: report, lines: ['nothing was imported', ...lines], exitCode: 1 };
  }
  const done = isDryRun ? 'would be read in' : 'is in the database';
  return {
    facts: report,
    lines: [`${name} ${done} (season ${report.seasonState})`, ...changeLines(report), ...report.notes],
  };
}

export const importCommand: Command = {
  name: 'import',
  summary: 'Read a season file into the database: all of it or nothing.',
  usage: '<season.json | season.xlsx | folder of CSV>',
  help: [
    '  The season in the database becomes equal to the file: rows that the file lacks go. The same file twice changes',
    '  nothing.',
    '',
    '  --dry-run             say what would change, and change nothing',
    ORGANISATION_HELP,
  ],
  options: { 'dry-run': { type: 'boolean' }, ...ORGANISATION_OPTION },
  async run(input) {
    const file = readSoundSeason(onePositional(input, 'season'));
    const isDryRun = input.values['dry-run'] === true;
    const report = await withOrganisation(input, { create: true }, (db, { id }) =>
      isDryRun ? planImport(db, id, file) : applyImport(db, id, file, systemActor('dryspell import')),
    );
    return answer(report, file.season.name, isDryRun);
  },
};
