import { Module } from '@nestjs/common';
import { AccountController } from './account.controller.ts';
import { SignInController } from './sign-in.controller.ts';
import { SignInService } from './sign-in.service.ts';

@Module({ controllers: [SignInController, AccountController], providers: [SignInService] })
export class AccountsModule {}
