import { defineConfig } from 'prisma/config';

// `prisma generate` needs no database; only authoring against a live one does, and it says so itself then.
const databaseUrl = process.env['DATABASE_URL'] ?? 'postgresql://nobody@127.0.0.1:1/none';

export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations' },
  datasource: { url: databaseUrl },
});
