// node prisma/tools/diff.mjs            prints what the migrations lack against schema.prisma; exit code 2 when they differ
// node prisma/tools/diff.mjs <name>     writes it as prisma/migrations/<time>_<name>/migration.sql
// Works without network: the schema engine runs as WebAssembly, on an embedded PostgreSQL in a temporary folder.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { startEmbeddedServer } from '../../apps/cli/src/postgres/embedded-server.ts';
import { openSchemaEngine, schemaAndMigrations } from './schema-engine.mjs';

const [name] = process.argv.slice(2);
if (name !== undefined && !/^[a-z][a-z0-9_]*$/.test(name)) {
  console.error(
    `a migration name is lower-case words joined by underscores, for example add_lift_hire; got "${name}"`,
  );
  process.exit(1);
}

const dataFolder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-diff-'));
fs.chmodSync(dataFolder, 0o755);
const server = await startEmbeddedServer({ dataFolder, durable: false, say: console.error });
let exitCode = 1;
try {
  const { schema, migrations, migrationsFolder } = schemaAndMigrations();
  const { engine, close } = await openSchemaEngine(server.adminUrl('postgres'), schema);
  const difference = await engine.diff({
    from: { tag: 'migrations', ...migrations },
    to: { tag: 'schemaDatamodel', files: [{ path: 'schema.prisma', content: schema }] },
    script: true,
    exitCode: true,
    filters: { externalTables: [], externalEnums: [] },
    shadowDatabaseUrl: null,
  });
  await close();
  if (difference.exitCode !== 2) {
    console.log('the migrations and prisma/schema.prisma agree');
    exitCode = 0;
  } else if (name === undefined) {
    process.stdout.write(difference.stdout);
    exitCode = 2;
  } else {
    const stamp = new Date().toISOString().replace(/\D/g, '').slice(0, 14);
    const folder = path.join(migrationsFolder, `${stamp}_${name}`);
    fs.mkdirSync(folder, { recursive: true });
    fs.writeFileSync(path.join(folder, 'migration.sql'), difference.stdout);
    fs.writeFileSync(path.join(migrationsFolder, 'migration_lock.toml'), 'provider = "postgresql"\n');
    console.log(`wrote ${path.relative(process.cwd(), folder)}/migration.sql`);
    exitCode = 0;
  }
} catch (error) {
  console.error(error?.message ?? error, error?.meta === undefined ? '' : JSON.stringify(error.meta));
} finally {
  await server.stop();
  fs.rmSync(dataFolder, { recursive: true, force: true });
}
process.exit(exitCode);
