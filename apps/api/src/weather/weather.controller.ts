import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/weather.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { getSeason } from '../../../../libs/data/src/season.repository.ts';
import { siteWeather } from '../../../../libs/data/src/weather/site-weather.ts';
import { type SeriesStatus, weatherStatus } from '../../../../libs/data/src/weather/weather-status.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { CLOCK } from '../tokens.ts';

@Controller()
export class WeatherController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  @Bind(endpoints.listWeatherSeries)
  async list(input: InputOf<typeof endpoints.listWeatherSeries>, call: Call) {
    const { organisationId } = call.user;
    const season = await getSeason(this.db, organisationId, input.params.season);
    const all = await weatherStatus(this.db, { organisationId, now: this.clock.now() });
    const sites = await siteWeather(this.db, {
      seasonId: season.id,
      series: all.map(({ series }) => series),
    });
    const words = new Map(all.map((status) => [status.series.key, status.words]));
    return {
      series: all.map(shown),
      sites: sites.map(({ site, record, forecasts }) => ({
        site,
        record: record?.key ?? null,
        forecasts: forecasts.map(({ key }) => key),
        words: [
          record
            ? (words.get(record.key) ?? '')
            : 'no hourly record; its monthly figures stand in, where it has some',
          ...(forecasts.length === 0
            ? ['no forecast is fetched: no visit is within reach, or no service is set up']
            : []),
          ...forecasts.map(({ key }) => words.get(key) ?? ''),
        ].join('; '),
      })),
    };
  }
}

function shown({ series, held, feed, windows, words }: SeriesStatus) {
  const { key, kind, name, lat, lon, source, typicalYear } = series;
  return { key, kind, name, lat, lon, source, typicalYear, ...held, windows, feed, words };
}
