import type { BriefCore } from '../../../intake/src/index.ts';
import { addMinutes, daysBetween, type Instant, localDateAt } from '../../../kernel/src/index.ts';
import type { JudgedDay, MemberCounts } from '../../../weather/src/index.ts';
import type { Database } from '../database.ts';
import { listIssues, readForecast } from '../weather/forecasts.repository.ts';
import { readRecord } from '../weather/observations.repository.ts';
import type { WeatherSeries } from '../weather/series.repository.ts';
import type { NewForecastCase } from './forecast-cases.ts';
import type { OutsideVisit } from './make-evidence.ts';
import { hoursAround } from './visit-weather.ts';

/** Longest lead that cases are made for: beyond it the weights are 0 anyway. */
const LONGEST_LEAD_DAYS = 15;

/**
 * Each forecast of the first outside day by its lead, the last of each day of issue, against what came. None where the record does not say what
 * came. The share in past years is of the record as it was before the first of these forecasts, so that the day is not in it.
 */
export async function casesOfDay(
  db: Database,
  core: BriefCore,
  outside: OutsideVisit,
): Promise<NewForecastCase[]> {
  const { visit, work, siteDay, day, from, to, weather } = outside;
  const record = weather.record;
  if (record === null || record.typicalYear || weather.forecasts.length === 0) return [];
  const around = hoursAround(day, visit.site.zone);
  const came = await readRecord(db, { series: record, ...around });
  const { state } = core.judgeDay(came, work, siteDay);
  if (state === 'unknown') return [];
  const reach = { issuedBy: from, issuedAfter: addMinutes(from, -LONGEST_LEAD_DAYS * 1440), from, to };
  const cases: Omit<NewForecastCase, 'recordShare'>[] = [];
  for (const series of weather.forecasts) {
    const seen = new Set<number>();
    for (const { issuedAt } of await listIssues(db, { seriesIds: [series.id], ...reach })) {
      const leadDays = daysBetween(localDateAt(issuedAt, visit.site.zone), day);
      if (leadDays < 0 || seen.has(leadDays)) continue;
      const forecast = await readForecast(db, { series, issuedAt, ...around });
      if (forecast === null) continue;
      const share = core.memberShare(
        countsOf(forecast.members.map((member) => core.judgeDay(member, work, siteDay).state)),
      );
      if (!share.known) continue;
      seen.add(leadDays);
      const kind = forecast.members.length > 1 ? 'ensemble' : 'single';
      cases.push({
        ...{ visitId: visit.id, seriesId: series.id, day, leadDays, kind, issuedAt },
        ...{ forecastShare: share.value, good: state === 'good' },
      });
    }
  }
  const [first] = cases.map(({ issuedAt }) => issuedAt).sort();
  if (first === undefined) return [];
  const recordShare = await shareBefore(db, core, outside, record, first);
  return cases.map((each) => ({ ...each, recordShare }));
}

function countsOf(states: readonly JudgedDay['state'][]): MemberCounts {
  const unknown = states.filter((state) => state === 'unknown').length;
  const good = states.filter((state) => state === 'good').length;
  return { good, unknown, bad: states.length - good - unknown };
}

async function shareBefore(
  db: Database,
  core: BriefCore,
  { file, visit, day }: OutsideVisit,
  series: WeatherSeries,
  before: Instant,
): Promise<number | null> {
  const { content } = core.firstOutsideDay(file, visit.job.key, 0);
  const record = await readRecord(db, { series, to: before });
  if (content === null || record.hourIndex.length === 0) return null;
  const [, month, dayOfMonth] = day.split('-').map(Number) as [number, number, number];
  const { rows } = core.computeWindow(content, record);
  return rows.find((row) => row.month === month && row.dayOfMonth === dayOfMonth)?.shrunkGoodShare ?? null;
}
