import { Controller, Inject, type Type } from '@nestjs/common';
import type { RecordEndpoints } from '../../../../libs/contracts/src/http/records.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Reply } from '../frame/reply.ts';
import { RecordsService } from './records.service.ts';

type Values = Readonly<Record<string, unknown>>;

interface Input {
  readonly params: unknown;
  readonly query: unknown;
  readonly body: unknown;
  readonly version: number;
}

/** The controller of one season table. */
export function recordsController(endpoints: RecordEndpoints): Type {
  const { table } = endpoints;

  @Controller()
  class RecordsController {
    constructor(@Inject(RecordsService) private readonly records: RecordsService) {}

    @Bind(endpoints.list)
    list(input: Input, call: Call) {
      return this.records.list(table, input.params as Values, input.query as Values, call);
    }

    @Bind(endpoints.get)
    get(input: Input, call: Call) {
      return this.records.get(table, input.params as Values, call);
    }

    @Bind(endpoints.add)
    async add(input: Input, call: Call): Promise<Reply> {
      return Reply.json(
        201,
        await this.records.add(table, input.params as Values, input.body as Values, call),
      );
    }

    @Bind(endpoints.change)
    change(input: Input, call: Call) {
      return this.records.change(table, input.params as Values, input.body as Values, input.version, call);
    }

    @Bind(endpoints.remove)
    async remove(input: Input, call: Call): Promise<Reply> {
      await this.records.remove(table, input.params as Values, input.version, call);
      return Reply.empty(204);
    }
  }

  Object.defineProperty(RecordsController, 'name', { value: `${table}Controller` });
  return RecordsController;
}
