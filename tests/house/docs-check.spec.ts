import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { checkDocuments } from '../../apps/cli/tools/docs-check.mjs';

let folder: string;

beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-docs-'));
  fs.mkdirSync(path.join(folder, 'apps/cli/src/commands'), { recursive: true });
  fs.writeFileSync(path.join(folder, 'apps/cli/src/commands/plan.command.ts'), '');
  fs.writeFileSync(path.join(folder, 'apps/cli/src/commands/user-add.command.ts'), '');
  fs.writeFileSync(
    path.join(folder, 'package.json'),
    JSON.stringify({ scripts: { test: 'x', build: 'x', dryspell: 'x' } }),
  );
  fs.writeFileSync(path.join(folder, 'OTHER.md'), '# A heading, here\n');
});

afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

function findingsIn(text: string): string[] {
  fs.writeFileSync(path.join(folder, 'PAGE.md'), text);
  return checkDocuments(folder, ['PAGE.md']);
}

describe('the check of the documents', () => {
  it.each([
    ['a link to a file that is not there', '[x](missing.md)'],
    ['a link to a heading that is not there', '[x](OTHER.md#another)'],
    ['a script that package.json lacks', 'Run `npm run publish-it`.'],
    ['npm start without a start script', 'Run `npm start`.'],
    ['a command that the program lacks', '`npm run dryspell -- forecast`'],
    ['a path of one machine', `see ${['', 'home', 'someone', 'x'].join('/')}`],
    ['unfinished work', `${'TO' + 'DO'}: write this`],
  ])('finds %s', (_what, text) => {
    expect(findingsIn(text)).toHaveLength(1);
  });

  it('lets through what is there', () => {
    const text =
      '[x](OTHER.md#a-heading-here) `npm test`, `npm run build`, `npm run dryspell -- user add --name Ada`';
    expect(findingsIn(text)).toEqual([]);
  });
});
