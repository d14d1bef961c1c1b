import type { WeatherEvidenceDay } from '../../../contracts/src/http/briefs.ts';
import type { SeasonFile } from '../../../contracts/src/index.ts';
import type { BriefCore } from '../../../intake/src/index.ts';
import {
  addMinutes,
  DryspellError,
  type Instant,
  instantFromMs,
  type LocalDate,
} from '../../../kernel/src/index.ts';
import type { Forecast, HourlyRecord, SiteDay, SiteDayWork } from '../../../weather/src/index.ts';
import type { Database } from '../database.ts';
import { getSeasonById, type SeasonInfo } from '../season.repository.ts';
import { readSeasonFile } from '../season-export.repository.ts';
import { loadVisitFacts, type VisitFacts } from '../visit-facts.ts';
import { listIssues, readForecast } from '../weather/forecasts.repository.ts';
import { readRecord } from '../weather/observations.repository.ts';
import type { WeatherSeries } from '../weather/series.repository.ts';
import { briefDay } from './brief-times.ts';
import { keptForecast } from './kept-forecast.ts';
import { briefsOfDay, type KeptBrief } from './visit-brief.repository.ts';
import { hoursAround, type VisitWeather, weatherOfSite } from './visit-weather.ts';

/** The first outside day of a visit with everything that the weather is held against. */
export interface OutsideVisit {
  readonly season: SeasonInfo;
  readonly visit: VisitFacts;
  readonly file: SeasonFile;
  readonly day: LocalDate;
  readonly work: SiteDayWork;
  readonly siteDay: SiteDay;
  readonly shift: { readonly from: string; readonly to: string };
  /** The shift as moments. */
  readonly from: Instant;
  readonly to: Instant;
  readonly weather: VisitWeather;
}

/** Throws `not-found`, and `state-conflict` for a visit without outside work. */
export async function outsideVisit(db: Database, core: BriefCore, visitId: string): Promise<OutsideVisit> {
  const { season, visit, file } = await db.transaction(async (tx) => {
    const [facts] = await loadVisitFacts(tx, { id: visitId });
    if (!facts) throw new DryspellError('not-found', { visit: visitId });
    const info = await getSeasonById(tx, facts.seasonId);
    return { season: info, visit: facts, file: await readSeasonFile(tx, info) };
  });
  const day = briefDay(visit);
  const hours = visit.work.find((each) => each.day === day)?.hours ?? 0;
  const outside = core.firstOutsideDay(file, visit.job.key, hours);
  if (day === null || outside.work === null) {
    throw new DryspellError('state-conflict', {
      detail: 'Nothing is done outside on this visit, so no weather is held against it.',
    });
  }
  const { lat, lon } = visit.site;
  const { shift } = outside;
  const siteDay: SiteDay = { date: day, place: { lat, lon }, shift };
  const { shiftFromMin, shiftToMin } = core.shiftOn(day, siteDay);
  return {
    season,
    visit,
    file,
    day,
    work: outside.work,
    siteDay,
    shift,
    from: instantFromMs(shiftFromMin * 60_000),
    to: instantFromMs(shiftToMin * 60_000),
    weather: await weatherOfSite(db, season, visit.site.key),
  };
}

/** What was forecast for the first outside day, what came, and which limits were broken in which hours, as far as it is known now. */
export async function makeEvidence(
  db: Database,
  core: BriefCore,
  outside: OutsideVisit,
  now: Instant,
): Promise<Omit<WeatherEvidenceDay, 'kept'>> {
  const { visit, day, work, shift, from, to, weather } = outside;
  const briefs = await briefsOfDay(db.client, visit.id, day);
  const record = await observedHours(db, weather.record, from, to);
  const evidence = core.evidence({
    steps: work.steps,
    forecast: await forecastOf(db, outside, briefs),
    observed: record,
    from,
    to,
    zone: visit.site.zone,
  });
  const known = evidence.hours.filter(
    ({ observed }) => observed.windMps !== null || observed.rainMm !== null,
  );
  return {
    day,
    shiftFrom: shift.from,
    shiftTo: shift.to,
    site: visit.site.name,
    madeAt: now,
    observedHours: known.length,
    record: record === null ? null : (weather.record?.key ?? null),
    briefs: briefs.map(({ kind, madeAt, brief, turnedFrom }) => ({
      kind,
      madeAt,
      advice: brief.advice,
      turnedFrom,
      forecastIssuedAt: brief.forecast.issuedAt,
    })),
    // Plain JSON of the same shape; only its lists are not read-only.
    evidence: evidence as unknown as WeatherEvidenceDay['evidence'],
  };
}

/** The hours around a span that a record has; null where it has none, or is a made-up year, which says nothing of any day. */
async function observedHours(
  db: Database,
  series: WeatherSeries | null,
  from: Instant,
  to: Instant,
): Promise<HourlyRecord | null> {
  if (series === null || series.typicalYear) return null;
  const record = await readRecord(db, { series, from: addMinutes(from, -180), to: addMinutes(to, 180) });
  return record.hourIndex.length === 0 ? null : record;
}

/** The run that the last brief went by, as it was kept; without a brief the last one that was issued before the shift. */
async function forecastOf(
  db: Database,
  { day, from, visit, weather }: OutsideVisit,
  briefs: readonly KeptBrief[],
): Promise<Forecast | null> {
  const last = [...briefs].reverse().find(({ brief }) => brief.forecast.issuedAt !== null);
  if (last) {
    const kept = keptForecast(last.input, last.brief);
    if (kept) return kept;
  }
  const series = weather.forecasts;
  const [issue] = await listIssues(db, { seriesIds: series.map(({ id }) => id), issuedBy: from, limit: 1 });
  const of = series.find(({ id }) => id === issue?.seriesId);
  if (!issue || !of) return null;
  return readForecast(db, { series: of, issuedAt: issue.issuedAt, ...hoursAround(day, visit.site.zone) });
}
