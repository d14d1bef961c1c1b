import { applyMigrations } from '../../../../libs/data/src/migrate.ts';
import { migrationsFolder } from '../program/program-root.ts';
import type { Command } from './command.ts';
import { withDatabase } from './with-database.ts';

export const migrateCommand: Command = {
  name: 'migrate',
  summary: 'Bring the tables of the database up to date.',
  usage: '',
  help: [
    '  npm start does this by itself. With several servers on one DATABASE_URL, run it once before they start.',
    '',
  ],
  options: {},
  async run(input) {
    const { applied, shownAs } = await withDatabase(input, { create: true }, async (database) => ({
      ...(await applyMigrations({ databaseUrl: database.url, migrationsDir: migrationsFolder() })),
      shownAs: database.shownAs,
    }));
    return {
      facts: { applied },
      lines: applied.length === 0 ? [`${shownAs} is up to date`] : applied.map((name) => `applied ${name}`),
    };
  },
};
