import { Module } from '@nestjs/common';
import { recordEndpointsOf } from '../../../../libs/contracts/src/http/records.ts';
import { recordsController } from './records.controller.ts';
import { RecordsService } from './records.service.ts';

@Module({
  controllers: recordEndpointsOf.map(recordsController),
  providers: [RecordsService],
  exports: [RecordsService],
})
export class RecordsModule {}
