import path from 'node:path';
import { writeBackup } from '../backup/write-backup.ts';
import { filesFolderOf } from '../launcher/data-folder.ts';
import { programVersion } from '../program/program-root.ts';
import { type Command, optionalText, UsageError } from './command.ts';
import { withDatabase } from './with-database.ts';

export const backupCommand: Command = {
  name: 'backup',
  summary: 'Write everything into one file.',
  usage: '[file]',
  help: [
    '  Without a file name: dryspell-backup-<time>.ndjson.gz in this folder. The file is for your eyes only (mode 0600):',
    '  it holds names, addresses and the hashes of links. It may be made while Dryspell runs.',
    '',
  ],
  options: {},
  async run(input) {
    const [asked, ...rest] = input.positionals;
    if (rest.length > 0) throw new UsageError('one file at a time');
    const madeAt = new Date();
    const stamp = madeAt.toISOString().replace(/[-:]|\.\d+/g, '');
    const target = path.resolve(asked ?? `dryspell-backup-${stamp}.ndjson.gz`);
    const filesFolder = filesFolderOf(optionalText(input, 'data'), input.environment);
    const summary = await withDatabase(input, { create: false }, ({ url }) =>
      writeBackup({ databaseUrl: url, filesFolder, target, program: programVersion(), madeAt }),
    );
    const rows = summary.tables.reduce((sum, table) => sum + table.rows, 0);
    return {
      facts: { file: target, ...summary },
      lines: [
        `${target}: ${rows} rows of ${summary.tables.length} tables, ${summary.files.length} files, ${summary.bytes} bytes`,
      ],
    };
  },
};
