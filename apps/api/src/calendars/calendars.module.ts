import { Module } from '@nestjs/common';
import { CalendarController } from './calendar.controller.ts';

@Module({ controllers: [CalendarController] })
export class CalendarsModule {}
