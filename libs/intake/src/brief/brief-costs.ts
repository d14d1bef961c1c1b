import type { BriefCostPart } from '../../../contracts/src/http/brief-schema.ts';
import type { SeasonFile } from '../../../contracts/src/index.ts';
import { daysBetween, type LocalDate, localDateAt } from '../../../kernel/src/index.ts';
import { estimateLeg } from '../../../travel/src/index.ts';
import { byKey } from '../tables.ts';
import type { BriefInput } from './brief-input.ts';

/** The two sides of the decision, part by part; a part whose price nobody knows is null. */
export interface BriefCosts {
  readonly failedStart: readonly BriefCostPart[];
  readonly holding: readonly BriefCostPart[];
  /** What the figures rest on where the season does not say it. */
  readonly notes: readonly string[];
}

interface Way {
  readonly km: number;
  readonly driveMin: number;
  readonly known: boolean;
}

/**
 * What a start that fails costs, and what holding for a day costs, at the season's own rates, as the season plan prices them. A failed start:
 * the crew's day on site, casual hands, the lift's day and its way, a truck that is to come on that very day, the night, and the way there and
 * back with its paid travel days, from the base. Holding: the crew's waiting day, casual hands, the lift and the beds for a day longer, and,
 * where no day held back for weather follows, the moved visit; lateness by a day beyond the promise.
 */
export function briefCosts(input: Pick<BriefInput, 'file' | 'visit' | 'now'>): BriefCosts {
  const { file, visit } = input;
  const crew = byKey(file.crews).get(visit.crew);
  const notes: string[] = [];
  if (!crew) return { failedStart: [], holding: [], notes: [`The crew ${visit.crew} is not in the season.`] };
  const way = wayTo(file, crew.base, visit.job);
  if (way && !way.known)
    notes.push(`The way from the base is estimated from the map: ${way.km} km, ${way.driveMin} minutes.`);
  const away = way === null || way.driveMin > crew.sameDayDriveMin;
  const heads = visit.people.filter(({ role }) => role !== 'casual').length;
  const night: BriefCostPart[] = away ? [{ key: 'beds', cents: heads * crew.nightPerHeadCents }] : [];
  const travelDays =
    way === null ? 0 : Math.max(0, Math.ceil((way.driveMin - crew.sameDayDriveMin) / crew.driveMinPerDay));
  const casual = casualDay(file, visit.people);
  const lifts = visit.lifts.map((key) => liftParts(file, key, visit.job));
  const liftDay = sumPart(
    'lift-day',
    lifts.map(({ day }) => day),
  );
  return {
    failedStart: [
      { key: 'crew-day', cents: crew.dayCents },
      ...casual,
      ...liftDay,
      ...sumPart(
        'lift-delivery',
        lifts.map(({ delivery }) => delivery),
      ),
      ...truckOfDay(file, visit),
      ...night,
      { key: 'driving', cents: way && Math.round(crew.perKmCents * 2 * way.km) },
      ...(travelDays > 0 ? [{ key: 'travel-days' as const, cents: 2 * travelDays * crew.dayCents }] : []),
    ],
    holding: [
      { key: 'crew-day', cents: crew.standbyDayCents },
      ...casual,
      ...liftDay,
      ...night,
      ...movedVisit(input),
      ...lateByADay(file, visit),
    ],
    notes,
  };
}

function sumPart(key: BriefCostPart['key'], cents: readonly (number | null)[]): BriefCostPart[] {
  if (cents.length === 0) return [];
  return [
    { key, cents: cents.includes(null) ? null : (cents as number[]).reduce((sum, each) => sum + each) },
  ];
}

function casualDay(file: SeasonFile, people: BriefInput['visit']['people']): BriefCostPart[] {
  const rows = byKey(file.people);
  const casual = people.filter(({ role }) => role === 'casual');
  return sumPart(
    'casual-hands',
    casual.map(({ key }) => rows.get(key)?.dayCents ?? null),
  );
}

function liftParts(
  file: SeasonFile,
  key: string,
  job: string,
): { day: number | null; delivery: number | null } {
  const lift = byKey(file.lifts).get(key);
  const site = siteOf(file, job);
  if (!lift || !site) return { day: null, delivery: null };
  const { km } = estimateLeg({ lat: lift.depotLat, lon: lift.depotLon }, { lat: site.lat, lon: site.lon });
  return {
    day: lift.dayCents,
    delivery: Math.round(lift.mobiliseFixedCents + lift.mobilisePerKmCents * 2 * km),
  };
}

/** A truck that comes on the day itself; one that came before is spent either way. */
function truckOfDay(file: SeasonFile, { job, day, deliveryDay }: BriefInput['visit']): BriefCostPart[] {
  if (deliveryDay !== day) return [];
  const runs = file.deliveryRuns.filter((run) => run.job === job && run.day === day && run.state !== 'off');
  return sumPart('truck', runs.length === 0 ? [null] : runs.map((run) => run.costCents ?? null));
}

function movedVisit({ file, visit, now }: Pick<BriefInput, 'file' | 'visit' | 'now'>): BriefCostPart[] {
  if (visit.reserveDays.some((day) => day > visit.day)) return [];
  const { movedCents, movedPerDayCents, nearDays, nearFactor } = file.season;
  const site = siteOf(file, visit.job);
  const today = localDateAt(now, site?.zone ?? file.season.zone);
  const nearness = 1 - daysBetween(today, visit.day) / nearDays;
  const weight = 1 + nearFactor * Math.min(1, Math.max(0, nearness));
  return [{ key: 'moved-visit', cents: Math.round((movedCents + movedPerDayCents) * weight) }];
}

function lateByADay(file: SeasonFile, visit: BriefInput['visit']): BriefCostPart[] {
  const job = byKey(file.jobs).get(visit.job);
  const promised = (job?.promisedBy ?? null) as LocalDate | null;
  if (!job || promised === null || visit.endDay < promised) return [];
  return [{ key: 'late', cents: job.lateCentsPerDay }];
}

function siteOf(file: SeasonFile, job: string) {
  return byKey(file.sites).get(byKey(file.jobs).get(job)?.site ?? '') ?? null;
}

/** The way from a base to a site: the known one, else the estimate; null without coordinates. */
function wayTo(file: SeasonFile, base: string, job: string): Way | null {
  const site = siteOf(file, job);
  const place = byKey(file.places).get(base);
  if (!site || !place) return null;
  const known =
    file.travelOverrides.find((row) => row.fromPlace === base && row.toPlace === site.key) ??
    file.travelOverrides.find((row) => row.fromPlace === site.key && row.toPlace === base);
  if (known) return { km: known.km, driveMin: known.driveMin + (known.waitMin ?? 0), known: true };
  return { ...estimateLeg(place, site), known: false };
}
