import { Module } from '@nestjs/common';
import { WeatherController } from './weather.controller.ts';
import { WeatherImportController } from './weather-import.controller.ts';

@Module({ controllers: [WeatherController, WeatherImportController] })
export class WeatherModule {}
