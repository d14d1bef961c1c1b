import { Global, Module } from '@nestjs/common';
import { APP_FILTER, APP_GUARD, APP_INTERCEPTOR, DiscoveryModule } from '@nestjs/core';
import type { ApiConfig } from '../config.ts';
import { API_CONFIG } from '../tokens.ts';
import { AccessGuard } from './access.guard.ts';
import { Cursors } from './cursor.ts';
import { ExchangeInterceptor } from './exchange.interceptor.ts';
import { Idempotency } from './idempotency.ts';
import { OpenStreams } from './open-streams.ts';
import { ProblemFilter } from './problem.filter.ts';

/** What every request passes: guard, check, answer, problems. */
@Global()
@Module({
  imports: [DiscoveryModule],
  providers: [
    { provide: APP_GUARD, useClass: AccessGuard },
    { provide: APP_INTERCEPTOR, useClass: ExchangeInterceptor },
    { provide: APP_FILTER, useClass: ProblemFilter },
    { provide: Cursors, inject: [API_CONFIG], useFactory: (config: ApiConfig) => new Cursors(config.secret) },
    Idempotency,
    OpenStreams,
  ],
  exports: [Cursors, OpenStreams],
})
export class FrameModule {}
