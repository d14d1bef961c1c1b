import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/weather.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { pageImports } from '../../../../libs/data/src/listing/weather-import-page.ts';
import { getSeason } from '../../../../libs/data/src/season.repository.ts';
import {
  endImport,
  getImport,
  openImport,
  queueImport,
  type WeatherImport,
} from '../../../../libs/data/src/weather/imports.repository.ts';
import { getRecordTarget } from '../../../../libs/data/src/weather/record-target.ts';
import { type Clock, DryspellError, type Instant } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { OpenStreams } from '../frame/open-streams.ts';
import { Paging } from '../frame/paging.ts';
import { Reply } from '../frame/reply.ts';
import { rowEvents } from '../frame/row-events.ts';
import { CLOCK } from '../tokens.ts';
import { receiveFile } from './receive-file.ts';

@Controller()
export class WeatherImportController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
    @Inject(Cursors) private readonly cursors: Cursors,
    @Inject(OpenStreams) private readonly streams: OpenStreams,
  ) {}

  @Bind(endpoints.importWeather)
  async import(input: InputOf<typeof endpoints.importWeather>, call: Call): Promise<Reply> {
    const { season } = input.params;
    const { target, key, fileName, ...options } = input.query;
    const stream = input.file?.stream;
    if (!stream) throw new DryspellError('internal', { reason: 'a file endpoint without a stream' });
    const { organisationId } = call.user;
    await getSeason(this.db, organisationId, season);
    await getRecordTarget(this.db, { organisationId, season, kind: target, key });
    const actor = actorOf(call);
    const declared = Number(call.request.headers['content-length'] ?? Number.NaN);
    const { id } = await openImport(this.db, {
      organisationId,
      targetKind: target,
      targetKey: key,
      season,
      fileName,
      options,
      bytesTotal: Number.isSafeInteger(declared) ? declared : null,
      actor,
      now: this.clock.now(),
    });
    try {
      const bytes = await receiveFile(
        { db: this.db, clock: this.clock },
        {
          importId: id,
          stream,
          maxBytes: endpoints.WEATHER_FILE_MAX_BYTES,
        },
      );
      if (bytes === 0)
        throw new DryspellError('invalid-input', { field: 'body', expected: 'the bytes of a weather file' });
    } catch (error) {
      await endImport(this.db, { id, fault: wordsOf(error), actor, now: this.clock.now() });
      throw error;
    }
    const run = await queueImport(this.db, { id, now: this.clock.now() });
    return Reply.json(202, shown(run), { location: `/api/v1/seasons/${season}/weather-imports/${id}` });
  }

  @Bind(endpoints.listWeatherImports)
  async list(input: InputOf<typeof endpoints.listWeatherImports>, call: Call) {
    const { season } = input.params;
    const { organisationId } = call.user;
    await getSeason(this.db, organisationId, season);
    const paging = new Paging<{ createdAt: Instant; id: string }>(this.cursors, call);
    const rows = await pageImports(this.db, {
      organisationId,
      season,
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(rows, shown, ({ createdAt, id }) => ({ createdAt, id }));
  }

  @Bind(endpoints.getWeatherImport)
  async get(input: InputOf<typeof endpoints.getWeatherImport>, call: Call) {
    return shown(await this.run(input.params, call));
  }

  @Bind(endpoints.weatherImportEvents)
  async events(input: InputOf<typeof endpoints.weatherImportEvents>, call: Call): Promise<Reply> {
    await this.run(input.params, call);
    return rowEvents(call, {
      read: () => this.run(input.params, call),
      shown,
      ending: this.streams.signal,
    });
  }

  /** The run, where it is of this season. */
  private async run(params: { season: string; importId: string }, call: Call): Promise<WeatherImport> {
    const run = await getImport(this.db, call.user.organisationId, params.importId);
    if (run.season !== params.season)
      throw new DryspellError('not-found', { weatherImport: params.importId });
    return run;
  }
}

function shown(run: WeatherImport) {
  const {
    organisationId: _organisationId,
    seriesId: _seriesId,
    season: _season,
    attempts: _attempts,
    ...facts
  } = run;
  const { targetKind: target, targetKey: key, ...rest } = facts;
  return { ...rest, target, key };
}

function wordsOf(error: unknown): string {
  if (error instanceof DryspellError && error.code === 'too-large')
    return 'The file is larger than is taken in. Split it by years.';
  if (error instanceof DryspellError && error.code === 'invalid-input')
    return 'The upload held no bytes. Choose the file again.';
  return 'The upload stopped on the way. Nothing was changed; upload the file again.';
}
