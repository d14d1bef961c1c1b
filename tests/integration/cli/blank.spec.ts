import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { COMMANDS } from '../../../apps/cli/src/commands/all-commands.ts';
import { runCommand } from '../../../apps/cli/src/commands/run-command.ts';
import { seasonTableNames } from '../../../libs/contracts/src/season-file/index.ts';
import { readSeasonWorkbook } from '../../../libs/documents/src/season-sheets/read-season.ts';

let folder: string;
const file = (name: string) => path.join(folder, name);
const quiet = { out: () => {}, err: () => {} };
const blank = (name: string) => runCommand(COMMANDS, ['blank', file(name)], {}, quiet);

beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-blank-'));
});

afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe('an empty form of the season file', () => {
  it('is a workbook whose only faults are what is not yet filled in', async () => {
    expect(await blank('season.xlsx')).toBe(0);
    const read = readSeasonWorkbook(fs.readFileSync(file('season.xlsx')));
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.faults.map(({ table }) => table)).toEqual(read.faults.map(() => 'season'));
  });

  it('is a JSON Schema of draft 2020-12 that names every table', async () => {
    expect(await blank('schema.json')).toBe(0);
    const schema = JSON.parse(fs.readFileSync(file('schema.json'), 'utf8')) as Record<string, unknown>;
    expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(Object.keys(schema['properties'] as object)).toEqual(
      expect.arrayContaining(['format', 'formatVersion', 'season', ...seasonTableNames]),
    );
  });

  it('never takes the place of a file that is there, and has two forms only', async () => {
    fs.writeFileSync(file('mine.xlsx'), 'my work');
    expect(await blank('mine.xlsx')).toBe(1);
    expect(fs.readFileSync(file('mine.xlsx'), 'utf8')).toBe('my work');
    expect(await blank('season.doc')).toBe(2);
    expect(await blank('no/such/folder.json')).toBe(1);
  });
});
