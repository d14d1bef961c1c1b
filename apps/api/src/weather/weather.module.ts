import { Module } from '@nestjs/common';
import { OddsCalendarController } from './odds-calendar.controller.ts';
import { OddsCalendarService } from './odds-calendar.service.ts';
import { WeatherController } from './weather.controller.ts';
import { WeatherImportController } from './weather-import.controller.ts';

@Module({
  controllers: [WeatherController, WeatherImportController, OddsCalendarController],
  providers: [OddsCalendarService],
})
export class WeatherModule {}
