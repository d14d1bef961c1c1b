import { Global, Inject, Injectable, Module, type OnApplicationShutdown } from '@nestjs/common';
import { createDatabase, type Database } from '../../../../libs/data/src/database.ts';
import type { ApiConfig } from '../config.ts';
import { LinkReader, SessionReader } from '../frame/caller.ts';
import { KeyStore } from '../frame/idempotency.ts';
import { API_CONFIG } from '../tokens.ts';
import { DATABASE } from './database.token.ts';
import { StoredKeys } from './stored-keys.ts';
import { StoredLinks, StoredSessions } from './stored-sessions.ts';

@Injectable()
class DatabaseEnd implements OnApplicationShutdown {
  constructor(@Inject(DATABASE) private readonly db: Database) {}

  async onApplicationShutdown(): Promise<void> {
    await this.db.close();
  }
}

/** The database, the clock, and what the frame keeps in the database. */
@Global()
@Module({
  providers: [
    {
      provide: DATABASE,
      inject: [API_CONFIG],
      useFactory: (config: ApiConfig) => createDatabase({ url: config.databaseUrl, maxConnections: 10 }),
    },
    { provide: SessionReader, useClass: StoredSessions },
    { provide: LinkReader, useClass: StoredLinks },
    { provide: KeyStore, useClass: StoredKeys },
    DatabaseEnd,
  ],
  exports: [DATABASE, SessionReader, LinkReader, KeyStore],
})
export class DataModule {}
