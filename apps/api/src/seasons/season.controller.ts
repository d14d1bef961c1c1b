import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/seasons.ts';
import type { SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Reply } from '../frame/reply.ts';
import { SeasonService } from './season.service.ts';

const shown = ({ id, version, head }: SeasonInfo) => ({ id, version, row: head });

@Controller()
export class SeasonController {
  constructor(@Inject(SeasonService) private readonly seasons: SeasonService) {}

  @Bind(endpoints.listSeasons)
  async list(_input: InputOf<typeof endpoints.listSeasons>, call: Call) {
    return { items: (await this.seasons.list(call)).map(shown) };
  }

  @Bind(endpoints.getSeason)
  async get(input: InputOf<typeof endpoints.getSeason>, call: Call) {
    return shown(await this.seasons.get(input.params.season, call));
  }

  @Bind(endpoints.changeSeason)
  async change(input: InputOf<typeof endpoints.changeSeason>, call: Call) {
    return shown(await this.seasons.change(input.params.season, input.body, input.version, call));
  }

  @Bind(endpoints.importSeason)
  async import(input: InputOf<typeof endpoints.importSeason>, call: Call) {
    if (!input.file) throw new DryspellError('internal', { reason: 'a file endpoint without a file' });
    const { season, report } = await this.seasons.import(input.file, input.query.dryRun, call);
    const { seasonState, notes, tables } = report;
    return { dryRun: input.query.dryRun, season, seasonState, notes, tables };
  }

  @Bind(endpoints.exportSeason)
  async export(input: InputOf<typeof endpoints.exportSeason>, call: Call): Promise<Reply> {
    const { season } = input.params;
    const { format } = input.query;
    const body = await this.seasons.export(season, format, call);
    const mediaType = format === 'json' ? 'application/json; charset=utf-8' : endpoints.WORKBOOK;
    return Reply.raw(200, mediaType, body, {
      'content-disposition': `attachment; filename="${season}.${format}"`,
    });
  }
}
