import { execFile } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it } from '@jest/globals';
import { API_VERSION } from '../../../apps/api/src/version.ts';

const root = path.resolve(import.meta.dirname, '../../..');

describe('what is written from the description of the API', () => {
  it('holds for the typed client: its types are those of the present endpoints', async () => {
    const tool = [
      '--import',
      './apps/cli/tools/register-ts.mjs',
      'apps/web/tools/write-client-types.ts',
      '--check',
    ];
    await expect(promisify(execFile)(process.execPath, tool, { cwd: root })).resolves.toMatchObject({
      stderr: '',
    });
  }, 120_000);

  it('carries the version of the program', () => {
    const { version } = JSON.parse(fs.readFileSync(path.join(root, 'package.json'), 'utf8')) as {
      version: string;
    };
    expect(API_VERSION).toBe(version);
  });
});
