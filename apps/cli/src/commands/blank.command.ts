import fs from 'node:fs';
import path from 'node:path';
import { seasonFileJsonSchema } from '../../../../libs/contracts/src/season-file/index.ts';
import { emptySeasonWorkbook } from '../../../../libs/documents/src/season-sheets/write-workbook.ts';
import { type Command, onePositional, UsageError } from './command.ts';

export const blankCommand: Command = {
  name: 'blank',
  summary: 'Write an empty season workbook to fill in (.xlsx), or the JSON Schema of a season file (.json).',
  usage: '<blank.xlsx | schema.json>',
  help: ['  An existing file is never overwritten. Needs no database.', ''],
  options: {},
  async run(input) {
    const file = path.resolve(onePositional(input, 'file to write'));
    const kind = path.extname(file).toLowerCase();
    if (kind !== '.xlsx' && kind !== '.json')
      throw new UsageError('name a file that ends in .xlsx or in .json');
    const bytes =
      kind === '.xlsx' ? await emptySeasonWorkbook() : `${JSON.stringify(seasonFileJsonSchema(), null, 2)}\n`;
    try {
      fs.writeFileSync(file, bytes, { flag: 'wx' });
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      const why =
        code === 'EEXIST'
          ? 'it is there already; name another file'
          : `it cannot be written (${code}); choose a folder that you may write to`;
      return { facts: { file, written: false, why }, lines: [`${file}: ${why}`], exitCode: 1 };
    }
    const what = kind === '.xlsx' ? 'an empty season workbook' : 'the JSON Schema of a season file';
    return { facts: { file, written: true }, lines: [`written: ${what}, ${file}`] };
  },
};
