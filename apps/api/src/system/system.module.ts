import { Module } from '@nestjs/common';
import { HealthChecks } from './health-checks.ts';
import { StoredHealth } from './stored-health.ts';
import { SystemController } from './system.controller.ts';

@Module({ controllers: [SystemController], providers: [{ provide: HealthChecks, useClass: StoredHealth }] })
export class SystemModule {}
