import { Module } from '@nestjs/common';
import { PlanController } from './plan.controller.ts';
import { PlanService } from './plan.service.ts';
import { PlanRunController } from './plan-run.controller.ts';

@Module({ controllers: [PlanController, PlanRunController], providers: [PlanService] })
export class PlansModule {}
