import { Module } from '@nestjs/common';
import { SystemController } from './system.controller.ts';

@Module({ controllers: [SystemController] })
export class SystemModule {}
