import { Module } from '@nestjs/common';
import { AnswerController } from './answer.controller.ts';

@Module({ controllers: [AnswerController] })
export class AnswersModule {}
