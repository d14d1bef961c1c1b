// Checks the types of the server parts and, when it is there, of the web client.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../../..');
const compiler = path.join(root, 'node_modules/typescript7/bin/tsc');

let failed = false;
for (const project of ['.', 'apps/web']) {
  if (!fs.existsSync(path.join(root, project, 'tsconfig.json'))) continue;
  const result = spawnSync(process.execPath, [compiler, '-p', project], { cwd: root, stdio: 'inherit' });
  if (result.status !== 0) failed = true;
}
process.exit(failed ? 1 : 0);
