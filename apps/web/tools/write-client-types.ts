// Writes src/api/schema.d.ts from the endpoints that the server is built of:
//   npm run ts -- apps/web/tools/write-client-types.ts [--check]
// With --check nothing is written; the exit code says whether the file is up to date.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { allEndpoints } from '../../../libs/contracts/src/http/all.ts';
import { buildOpenApi } from '../../../libs/contracts/src/http/openapi.ts';

const root = path.resolve(import.meta.dirname, '../../..');
const target = path.join(root, 'apps/web/src/api/schema.d.ts');

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-client-types-'));
try {
  const document = buildOpenApi(allEndpoints, {
    title: 'Dryspell',
    version: '0',
    description: '',
    serverUrl: '/',
  });
  const description = path.join(folder, 'openapi.json');
  const written = path.join(folder, 'schema.d.ts');
  fs.writeFileSync(description, JSON.stringify(document));
  const made = spawnSync(
    process.execPath,
    [path.join(root, 'node_modules/openapi-typescript/bin/cli.js'), description, '-o', written],
    { cwd: root, stdio: ['ignore', 'ignore', 'inherit'] },
  );
  if (made.status !== 0) throw new Error('openapi-typescript failed');
  const text = fs.readFileSync(written, 'utf8');
  const present = fs.existsSync(target) ? fs.readFileSync(target, 'utf8') : '';
  if (!process.argv.includes('--check')) {
    fs.writeFileSync(target, text);
  } else if (text !== present) {
    console.error(
      'apps/web/src/api/schema.d.ts is older than the endpoints: npm run ts -- apps/web/tools/write-client-types.ts',
    );
    process.exitCode = 1;
  }
} finally {
  fs.rmSync(folder, { recursive: true, force: true });
}
