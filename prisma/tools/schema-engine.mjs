// The schema engine as WebAssembly over the pg adapter. Used for authoring migrations and for checking in CI that they
// agree with schema.prisma; migrations themselves are applied by the plain runner in libs/data.
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils';
import pg from 'pg';

const root = path.resolve(import.meta.dirname, '../..');
const OID_CHAR = 18;
const OID_CHAR_ARRAY = 1002;
const COLUMN_CHARACTER = 6;
const COLUMN_CHARACTER_ARRAY = 70;

export function schemaAndMigrations() {
  const migrationsFolder = path.join(root, 'prisma/migrations');
  const names = fs.existsSync(migrationsFolder)
    ? fs
        .readdirSync(migrationsFolder)
        .filter((name) => fs.existsSync(path.join(migrationsFolder, name, 'migration.sql')))
        .sort()
    : [];
  return {
    migrationsFolder,
    schema: fs.readFileSync(path.join(root, 'prisma/schema.prisma'), 'utf8'),
    migrations: {
      baseDir: migrationsFolder,
      lockfile: { path: 'migration_lock.toml', content: 'provider = "postgresql"\n' },
      shadowDbInitScript: '',
      migrationDirectories: names.map((name) => ({
        path: name,
        migrationFile: {
          path: 'migration.sql',
          content: {
            tag: 'ok',
            value: fs.readFileSync(path.join(migrationsFolder, name, 'migration.sql'), 'utf8'),
          },
        },
      })),
    },
  };
}

// The adapter refuses PostgreSQL's one-byte "char", which describing a database needs. Carried as a character array
// through the adapter's type table and named a character again on the way out.
function relabelQuery(query) {
  return function relabelled(...args) {
    const answer = query.apply(this, args);
    if (typeof answer?.then !== 'function') return answer;
    return answer.then((result) => {
      for (const field of result?.fields ?? [])
        if (field.dataTypeID === OID_CHAR) field.dataTypeID = OID_CHAR_ARRAY;
      return result;
    });
  };
}

function openPool(url) {
  const pool = new pg.Pool({ connectionString: url, max: 1 }); // one session: the engine holds a session lock
  pool.on('error', (error) => console.error(error.message));
  pool.on('connect', (client) => {
    client.query = relabelQuery(client.query);
  });
  pool.query = relabelQuery(pool.query);
  return pool;
}

function mend(adapter, pool) {
  const queryRaw = adapter.queryRaw.bind(adapter);
  adapter.queryRaw = async (query) => {
    const result = await queryRaw(query);
    result.columnTypes = result.columnTypes.map((type) =>
      type === COLUMN_CHARACTER_ARRAY ? COLUMN_CHARACTER : type,
    );
    return result;
  };
  if (pool !== undefined) {
    // The adapter cuts scripts at every semicolon, which breaks functions and is not atomic: send the script whole.
    adapter.executeScript = async (sql) => {
      try {
        await pool.query(sql);
      } catch (error) {
        adapter.onError(error);
      }
    };
  }
  if (adapter.startTransaction !== undefined) {
    const start = adapter.startTransaction.bind(adapter);
    adapter.startTransaction = async (...args) => mend(await start(...args));
  }
  return adapter;
}

function adapterFactory(url) {
  const pool = openPool(url);
  const shipped = new PrismaPg(pool);
  return {
    provider: shipped.provider,
    adapterName: shipped.adapterName,
    close: () => pool.end(),
    connect: async () => mend(await shipped.connect(), pool),
    // The shipped one connects to the real database again; the shadow must be a database of its own, dropped after.
    async connectToShadowDb() {
      const name = `shadow_${globalThis.crypto.randomUUID().replaceAll('-', '')}`;
      const shadowUrl = new URL(url);
      shadowUrl.pathname = `/${name}`;
      await pool.query(`CREATE DATABASE ${name}`);
      const shadowPool = openPool(shadowUrl.href);
      const adapter = mend(await new PrismaPg(shadowPool).connect(), shadowPool);
      const dispose = adapter.dispose.bind(adapter);
      adapter.dispose = async () => {
        await dispose();
        await shadowPool.end();
        await pool.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`);
      };
      return adapter;
    },
  };
}

export async function openSchemaEngine(url, schema) {
  globalThis.PRISMA_WASM_PANIC_REGISTRY = {
    set_message: (message) => console.error(`schema engine: ${message}`),
  };
  // The package exports no entry for Node, so its files are opened by path.
  const folder = path.join(root, 'node_modules/@prisma/schema-engine-wasm');
  if (!fs.existsSync(folder)) {
    const require = createRequire(import.meta.url);
    throw new Error(
      `the schema engine is not installed (looked beside ${require.resolve('prisma/package.json')}); run npm ci`,
    );
  }
  const bindings = await import(path.join(folder, 'schema_engine_bg.js'));
  const wasm = fs.readFileSync(path.join(folder, 'schema_engine_bg.wasm'));
  const { instance } = await WebAssembly.instantiate(wasm, { './schema_engine_bg.js': bindings });
  bindings.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start?.();
  const { close, ...factory } = adapterFactory(url);
  const engine = await bindings.SchemaEngine.new(
    { datamodels: [['schema.prisma', schema]] },
    () => {},
    bindMigrationAwareSqlAdapterFactory(factory),
  );
  return { engine, close };
}
