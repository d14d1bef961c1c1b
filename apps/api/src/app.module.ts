import { type DynamicModule, Global, Module } from '@nestjs/common';
import { AccountsModule } from './accounts/accounts.module.ts';
import { AnswersModule } from './answers/answers.module.ts';
import { CalendarsModule } from './calendars/calendars.module.ts';
import type { ApiConfig } from './config.ts';
import { DataModule } from './data/data.module.ts';
import { FrameModule } from './frame/frame.module.ts';
import { LinksModule } from './links/links.module.ts';
import { MessagesModule } from './messages/messages.module.ts';
import { PlansModule } from './plans/plans.module.ts';
import { RecordsModule } from './records/records.module.ts';
import { SeasonsModule } from './seasons/seasons.module.ts';
import { SystemModule } from './system/system.module.ts';
import { API_CONFIG } from './tokens.ts';
import { VisitsModule } from './visits/visits.module.ts';

@Global()
@Module({})
class AppModule {}

/** The whole API as one module. */
export function appModule(config: ApiConfig): DynamicModule {
  return {
    module: AppModule,
    imports: [
      FrameModule,
      DataModule,
      SystemModule,
      AccountsModule,
      SeasonsModule,
      RecordsModule,
      PlansModule,
      VisitsModule,
      MessagesModule,
      AnswersModule,
      LinksModule,
      CalendarsModule,
    ],
    providers: [{ provide: API_CONFIG, useValue: config }],
    exports: [API_CONFIG],
  };
}
