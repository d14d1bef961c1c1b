import type { BriefForecast } from '../../../intake/src/index.ts';
import { addDays, type Instant, type LocalDate, localToInstant } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { type SeasonInfo } from '../season.repository.ts';
import { feedsOf } from '../weather/feeds.repository.ts';
import { listIssues, readForecast } from '../weather/forecasts.repository.ts';
import { listSeries, type WeatherSeries } from '../weather/series.repository.ts';
import { siteWeather } from '../weather/site-weather.ts';

/** The series that stand for the site of a visit. */
export interface VisitWeather {
  readonly record: WeatherSeries | null;
  readonly forecasts: readonly WeatherSeries[];
}

/** Hours of a forecast that a site day may ask for: from the evening before to the end of the day after. */
export function hoursAround(day: LocalDate, zone: string): { readonly from: Instant; readonly to: Instant } {
  const at = (date: LocalDate, time: string): Instant =>
    localToInstant({ date, time, zone }, { inGap: 'next-valid', inOverlap: 'first' }).instant;
  return { from: at(addDays(day, -1), '18:00'), to: at(addDays(day, 2), '00:00') };
}

/** Which record and which forecasts there are for a site. */
export async function weatherOfSite(db: Database, season: SeasonInfo, site: string): Promise<VisitWeather> {
  const series = await listSeries(db, season.organisationId);
  const found = (await siteWeather(db, { seasonId: season.id, series })).find((each) => each.site === site);
  return { record: found?.record ?? null, forecasts: found?.forecasts ?? [] };
}

/** The newest forecast of each service that was fetched by `now`, with the hours around a day; services without one say so. */
export async function newestForecasts(
  db: Database,
  input: {
    readonly series: readonly WeatherSeries[];
    readonly day: LocalDate;
    readonly zone: string;
    readonly now: Instant;
  },
): Promise<BriefForecast[]> {
  const feeds = await feedsOf(
    db,
    input.series.map(({ id }) => id),
  );
  return Promise.all(
    input.series.map(async (series): Promise<BriefForecast> => {
      const feed = feeds.find(({ seriesId }) => seriesId === series.id);
      const [issue] = await listIssues(db, { seriesIds: [series.id], issuedBy: input.now, limit: 1 });
      const forecast = issue
        ? await readForecast(db, { series, issuedAt: issue.issuedAt, ...hoursAround(input.day, input.zone) })
        : null;
      return {
        series: series.key,
        source: series.source,
        heardAt: feed?.lastGoodAt ?? issue?.fetchedAt ?? null,
        fault: feed?.fault ?? null,
        forecast,
      };
    }),
  );
}
