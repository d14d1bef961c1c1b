import path from 'node:path';
import { restoreBackup } from '../backup/restore-backup.ts';
import { filesFolderOf } from '../launcher/data-folder.ts';
import { migrationsFolder } from '../program/program-root.ts';
import { type Command, onePositional, optionalText } from './command.ts';
import { withDatabase } from './with-database.ts';

export const restoreCommand: Command = {
  name: 'restore',
  summary: 'Read a backup into an empty database.',
  usage: '<file>',
  help: [
    '  Only into an empty database: pass --data with a new folder, or set DATABASE_URL to a new database. All of the',
    '  backup is read or, when anything is wrong with it, nothing. Stop the old Dryspell first: two on copies of the',
    '  same data would both write to customers.',
    '',
  ],
  options: {},
  async run(input) {
    const source = path.resolve(onePositional(input, 'file'));
    const filesFolder = filesFolderOf(optionalText(input, 'data'), input.environment);
    const manifest = await withDatabase(input, { create: true }, ({ url }) =>
      restoreBackup({ databaseUrl: url, source, filesFolder, migrationsFolder: migrationsFolder() }),
    );
    const rows = manifest.tables.reduce((sum, table) => sum + table.rows, 0);
    return {
      facts: { file: source, tables: manifest.tables, files: manifest.files },
      lines: [`${rows} rows of ${manifest.tables.length} tables and ${manifest.files.length} files are back`],
    };
  },
};
