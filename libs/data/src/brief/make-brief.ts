import type { MorningBrief } from '../../../contracts/src/http/brief-schema.ts';
import type { SeasonFile } from '../../../contracts/src/index.ts';
import type { BriefCore, BriefInput, BriefVisit } from '../../../intake/src/index.ts';
import { DryspellError, type Instant, type LocalDate } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { getSeasonById, type SeasonInfo } from '../season.repository.ts';
import { readSeasonFile } from '../season-export.repository.ts';
import { loadVisitFacts, type VisitFacts } from '../visit-facts.ts';
import { briefDay } from './brief-times.ts';
import { leadWeights } from './forecast-cases.ts';
import { forecastsToKeep } from './kept-forecast.ts';
import { recordWindow } from './record-window.ts';
import { newestForecasts, weatherOfSite } from './visit-weather.ts';

/** A brief as it stands now, with all that it was made from. */
export interface MadeBrief {
  readonly brief: MorningBrief;
  readonly season: SeasonInfo;
  readonly visit: VisitFacts;
  /** What the brief rests on, as plain JSON: the forecast as issued, the record's odds, weights and work. */
  readonly input: object;
  /** When the newest forecast that was looked at was issued, of whatever service; null: there was none. */
  readonly newestIssuedAt: Instant | null;
}

/**
 * Makes the brief of a visit from the rows and forecasts of the moment. Throws `not-found`, and `state-conflict` for a visit that is called off,
 * over, or has no outside day.
 */
export async function makeBrief(
  db: Database,
  core: BriefCore,
  wanted: { readonly visitId: string; readonly now: Instant },
): Promise<MadeBrief> {
  const { season, visit, file } = await db.transaction(async (tx) => {
    const [facts] = await loadVisitFacts(tx, { id: wanted.visitId });
    if (!facts) throw new DryspellError('not-found', { visit: wanted.visitId });
    const info = await getSeasonById(tx, facts.seasonId);
    return { season: info, visit: facts, file: await readSeasonFile(tx, info) };
  });
  const day = briefDay(visit);
  if (visit.state === 'cancelled' || visit.state === 'done' || day === null) {
    const detail =
      day === null
        ? 'Nothing is done outside on this visit, so there is no brief.'
        : `The visit is ${visit.state === 'done' ? 'over' : 'called off'}, so there is no brief.`;
    throw new DryspellError('state-conflict', { detail });
  }
  const asked = await gather(db, core, { season, visit, file, day, now: wanted.now });
  const issued = asked.forecasts.flatMap(({ forecast }) => (forecast ? [forecast.issuedAt] : [])).sort();
  return {
    brief: core.assembleBrief(asked),
    season,
    visit,
    input: {
      visit: asked.visit,
      records: asked.records,
      weights: asked.weights,
      forecasts: forecastsToKeep(asked.forecasts),
    },
    newestIssuedAt: issued.at(-1) ?? null,
  };
}

interface Gathered {
  readonly season: SeasonInfo;
  readonly visit: VisitFacts;
  readonly file: SeasonFile;
  readonly day: LocalDate;
  readonly now: Instant;
}

async function gather(
  db: Database,
  core: BriefCore,
  { season, visit, file, day, now }: Gathered,
): Promise<BriefInput> {
  const asked = visitOf(visit, day);
  const weather = await weatherOfSite(db, season, visit.site.key);
  const { content } = core.firstOutsideDay(file, visit.job.key, asked.plannedHours);
  const rows =
    weather.record && content ? await recordWindow(db, core, { record: weather.record, content, now }) : null;
  const [, month, dayOfMonth] = day.split('-').map(Number) as [number, number, number];
  return {
    file,
    visit: asked,
    forecasts: await newestForecasts(db, {
      series: weather.forecasts,
      day,
      zone: visit.site.zone,
      now,
    }),
    records: rows?.find((row) => row.month === month && row.dayOfMonth === dayOfMonth) ?? null,
    weights: await leadWeights(db, core, season.organisationId),
    now,
  };
}

/** The visit as the brief asks for it. */
export function visitOf(visit: VisitFacts, day: LocalDate): BriefVisit {
  const there = ({ fromDay, toDay }: { fromDay: LocalDate; toDay: LocalDate }): boolean =>
    fromDay <= day && day <= toDay;
  return {
    id: visit.id,
    job: visit.job.key,
    crew: visit.crew.key,
    day,
    plannedHours: visit.work.find((work) => work.day === day)?.hours ?? 0,
    endDay: visit.endDay,
    reserveDays: visit.reserveDays,
    deliveryDay: visit.deliveryDay,
    people: visit.assignments
      .filter((assignment) => assignment.state === 'asked' || assignment.state === 'accepted')
      .filter(there)
      .map(({ person, role }) => ({ key: person.key, role })),
    lifts: visit.liftHolds
      .filter(({ state }) => state !== 'off' && state !== 'declined')
      .filter(there)
      .map(({ lift }) => lift),
  };
}
