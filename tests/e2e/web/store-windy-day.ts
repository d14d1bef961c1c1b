import { systemActor } from '../../../libs/data/src/actor.ts';
import { storeForecast } from '../../../libs/data/src/weather/forecasts.repository.ts';
import { ensureSeries } from '../../../libs/data/src/weather/series.repository.ts';
import { ensureWeatherYears } from '../../../libs/data/src/weather/weather-columns.ts';
import { parseInstant } from '../../../libs/kernel/src/index.ts';
import { recordOf } from '../../../libs/weather/src/index.ts';
import type { RunningProgram } from './running-program.ts';

/** Keeps a forecast of one run for the site of a published visit, its first day and the two around it all with this gust. */
export async function storeWindyDay(
  { db, organisation }: RunningProgram,
  wanted: { readonly job: string; readonly gustMps: number },
): Promise<void> {
  const visit = await db.client.visit.findFirstOrThrow({
    where: { job: wanted.job },
    include: { jobRow: { include: { siteRow: true } } },
  });
  const { name, lat, lon, zone } = visit.jobRow.siteRow;
  const place = { name, lat, lon, elevationM: null };
  const clock = { standardOffsetMin: 0, typicalYear: false };
  const start = new Date(visit.startDay.getTime() - 24 * 3_600_000).toISOString().slice(0, 13);
  const hour = { tempC: 12, dewPointC: 5, rainMm: 0, windMps: 4, gustMps: wanted.gustMps, thunder: false };
  const member = recordOf({ place, source: 'test', ...clock, start, hours: new Array(72).fill(hour) });
  const issuedAt = parseInstant(new Date(Math.floor(Date.now() / 3_600_000) * 3_600_000).toISOString());
  await ensureWeatherYears(db, [visit.startDay.getUTCFullYear()]);
  await db.transaction(async (tx) => {
    const series = await ensureSeries(
      tx,
      {
        organisationId: organisation.id,
        key: `forecast.test.${lat.toFixed(4)}.${lon.toFixed(4)}`,
        kind: 'forecast',
        ...place,
        zone,
        source: 'An invented service',
        ...clock,
      },
      systemActor('test'),
    );
    await storeForecast(tx, {
      seriesId: series.id,
      forecast: { source: 'test', issuedAt, members: [member] },
      fetchedAt: issuedAt,
    });
  });
}
