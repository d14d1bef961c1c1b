import { Module } from '@nestjs/common';
import { MessageController } from './message.controller.ts';

@Module({ controllers: [MessageController] })
export class MessagesModule {}
