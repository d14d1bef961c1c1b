import fs from 'node:fs';
import path from 'node:path';
import { Inject, Injectable } from '@nestjs/common';
import type { Database } from '../../../../libs/data/src/database.ts';
import { missingMigrations } from '../../../../libs/data/src/listing/migration-state.ts';
import { oldestWaitingOutboxAt } from '../../../../libs/data/src/outbox.repository.ts';
import { type Clock, minutesBetween } from '../../../../libs/kernel/src/index.ts';
import { DATABASE } from '../data/database.token.ts';
import { CLOCK } from '../tokens.ts';
import { HealthChecks, type PartHealth } from './health-checks.ts';

/** Work that has waited longer than this says that no worker takes it. */
const WAITED_TOO_LONG_MIN = 5;

/** Asks the database, its migrations, and how long work has waited for the queue. */
@Injectable()
export class StoredHealth extends HealthChecks {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {
    super();
  }

  async ask(): Promise<Readonly<Record<string, PartHealth>>> {
    const database = await part(async () => {
      await this.db.ping();
      return { ok: true, detail: 'It answers.' };
    });
    if (!database.ok) return { database };
    return {
      database,
      migrations: await part(() => this.migrations()),
      queue: await part(() => this.queue()),
    };
  }

  private async migrations(): Promise<PartHealth> {
    const missing = await missingMigrations(this.db, findMigrationsDir(import.meta.dirname));
    if (missing.length === 0) return { ok: true, detail: 'All are in place.' };
    return { ok: false, detail: `${missing.length} are missing. Run the upgrade of the program.` };
  }

  private async queue(): Promise<PartHealth> {
    const oldest = await oldestWaitingOutboxAt(this.db);
    const waitedMin = oldest === null ? 0 : Math.floor(minutesBetween(oldest, this.clock.now()));
    if (waitedMin < WAITED_TOO_LONG_MIN) return { ok: true, detail: 'Work is taken.' };
    return { ok: false, detail: `Work has waited for ${waitedMin} minutes. See whether a worker runs.` };
  }
}

async function part(ask: () => Promise<PartHealth>): Promise<PartHealth> {
  try {
    return await ask();
  } catch {
    // The reason may name hosts and users; it is in the log of whoever asked, not on a page that is open to all.
    return { ok: false, detail: 'It does not answer.' };
  }
}

function findMigrationsDir(from: string): string {
  for (let folder = from; ; folder = path.dirname(folder)) {
    const candidate = path.join(folder, 'prisma', 'migrations');
    if (fs.existsSync(candidate)) return candidate;
    if (folder === path.dirname(folder)) throw new Error('no folder prisma/migrations above the program');
  }
}
