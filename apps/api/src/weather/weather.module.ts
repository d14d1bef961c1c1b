import { Module } from '@nestjs/common';
import { BriefController } from './brief.controller.ts';
import { EvidenceController } from './evidence.controller.ts';
import { OddsCalendarController } from './odds-calendar.controller.ts';
import { OddsCalendarService } from './odds-calendar.service.ts';
import { WeatherController } from './weather.controller.ts';
import { WeatherImportController } from './weather-import.controller.ts';

@Module({
  controllers: [
    WeatherController,
    WeatherImportController,
    OddsCalendarController,
    BriefController,
    EvidenceController,
  ],
  providers: [OddsCalendarService],
})
export class WeatherModule {}
