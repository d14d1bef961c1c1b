// Generates the Prisma client into libs/data/generated, without network.
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import path from 'node:path';

const require = createRequire(import.meta.url);
const root = path.resolve(import.meta.dirname, '../..');
const cli = path.join(path.dirname(require.resolve('prisma/package.json')), 'build/index.js');

const result = spawnSync(process.execPath, [cli, 'generate', ...process.argv.slice(2)], {
  cwd: root,
  stdio: 'inherit',
  env: {
    ...process.env,
    // `generate` never runs the schema engine but insists that the file exists; Node itself will do.
    PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
    CHECKPOINT_DISABLE: '1',
    PRISMA_HIDE_UPDATE_MESSAGE: '1',
  },
});
process.exit(result.status ?? 1);
