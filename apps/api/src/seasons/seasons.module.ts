import { Module } from '@nestjs/common';
import { SeasonController } from './season.controller.ts';
import { SeasonService } from './season.service.ts';

@Module({ controllers: [SeasonController], providers: [SeasonService] })
export class SeasonsModule {}
