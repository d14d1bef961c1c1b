import { type DynamicModule, Global, Module } from '@nestjs/common';
import { type Clock, instantFromMs } from '../../../libs/kernel/src/index.ts';
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
import { API_CONFIG, CLOCK } from './tokens.ts';
import { VisitsModule } from './visits/visits.module.ts';
import { WeatherModule } from './weather/weather.module.ts';

@Global()
@Module({})
class AppModule {}

const machineClock: Clock = { now: () => instantFromMs(Date.now()) };

/** The whole API as one module; the clock is the machine's unless another is given. */
export function appModule(config: ApiConfig, clock: Clock = machineClock): DynamicModule {
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
      WeatherModule,
      MessagesModule,
      AnswersModule,
      LinksModule,
      CalendarsModule,
    ],
    providers: [
      { provide: API_CONFIG, useValue: config },
      { provide: CLOCK, useValue: clock },
    ],
    exports: [API_CONFIG, CLOCK],
  };
}
