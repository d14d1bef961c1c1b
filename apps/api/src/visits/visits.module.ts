import { Module } from '@nestjs/common';
import { OwnController } from './own.controller.ts';
import { VisitController } from './visit.controller.ts';
import { VisitService } from './visit.service.ts';

@Module({ controllers: [VisitController, OwnController], providers: [VisitService] })
export class VisitsModule {}
