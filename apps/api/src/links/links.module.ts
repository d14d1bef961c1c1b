import { Module } from '@nestjs/common';
import { LinkController } from './link.controller.ts';
import { LinkAnswers } from './link-answers.ts';

@Module({ controllers: [LinkController], providers: [LinkAnswers] })
export class LinksModule {}
