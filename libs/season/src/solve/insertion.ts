/** Where one more visit fits best into a crew's sequence, read off the tables that its timing has worked out in both directions. */
import type { CompiledCrew, CompiledSeason } from '../compile/compiled-season.ts';
import type { VisitRows } from './visit-rows.ts';

const NEVER = Number.POSITIVE_INFINITY;

export interface Insertion {
  /** Cost of the whole sequence with the job in it; Infinity: it fits nowhere. */
  readonly cents: number;
  /** Position of the job in the new sequence. */
  readonly position: number;
}

/** A sequence whose tables are worked out; `CrewTiming` says what they hold. */
export interface LoadedSequence {
  readonly season: CompiledSeason;
  readonly rows: VisitRows;
  readonly crewIndex: number;
  readonly crew: CompiledCrew;
  readonly width: number;
  readonly length: number;
  readonly cents: number;
  siteAt(position: number): number;
  days(from: number, to: number): number;
  leg(from: number, to: number): number;
  home(position: number): Float64Array;
  homeToGo(position: number): Float64Array;
  tourBehind(position: number): Float64Array;
  tourAhead(position: number): Float64Array;
}

/**
 * Where one more job fits best into the loaded sequence, the other visits being free to move. The job's row must be fresh.
 * `atMost`: a cost from which on an insertion is of no interest.
 */
export function bestInsertion(loaded: LoadedSequence, job: number, atMost: number): Insertion {
  let best: Insertion = { cents: atMost, position: -1 };
  // Tours of one visit are quick to work out and give a limit that spares most of the rest.
  for (let position = 0; position <= loaded.length; position += 1) {
    const cents = ownTourCents(loaded, job, position, best.cents);
    if (cents < best.cents) best = { cents, position };
  }
  for (let position = 0; position <= loaded.length; position += 1) {
    const cents = insertionCents(loaded, job, position, best.cents);
    if (cents < best.cents) best = { cents, position };
  }
  return best.position < 0 ? { cents: NEVER, position: -1 } : best;
}

/** The job on a tour of its own between two visits. */
function ownTourCents(loaded: LoadedSequence, job: number, position: number, atMost: number): number {
  const { season, rows, crew } = loaded;
  const values = rows.values;
  const offset = rows.offset(loaded.crewIndex, job);
  const site = season.jobs[job]!.site;
  const before = loaded.home(position);
  const after = loaded.homeToGo(position);
  const out = loaded.days(crew.base, site);
  const back = loaded.days(site, crew.base);
  const legs = loaded.leg(crew.base, site) + loaded.leg(site, crew.base);
  let best = atMost;
  const last = rows.last(loaded.crewIndex, job);
  for (let start = Math.max(out, rows.first(loaded.crewIndex, job)); start <= last; start += 1) {
    const home = season.slots.release[offset + start]! + back;
    const nights = home - start + out;
    if (home >= season.dayCount || nights > crew.maxNights) continue;
    const cents =
      before[start - out]! + legs + values[offset + start]! + nights * crew.nightCents + after[home + 1]!;
    if (cents < best) best = cents;
  }
  return best;
}

function insertionCents(loaded: LoadedSequence, job: number, position: number, atMost: number): number {
  const { season, rows, crew, width } = loaded;
  const { dayCount, placeCount } = season;
  const { travelDays, legCents, nightCents, base, maxNights } = crew;
  const values = rows.values;
  const offset = rows.offset(loaded.crewIndex, job);
  const release = season.slots.release;
  const site = season.jobs[job]!.site;
  const from = position > 0 ? loaded.siteAt(position - 1) : -1;
  const to = position < loaded.length ? loaded.siteAt(position) : -1;
  const homeBefore = loaded.home(position);
  const homeAfter = loaded.homeToGo(position);
  const freeBefore = from >= 0 ? loaded.tourBehind(position - 1) : null;
  const toGoAfter = to >= 0 ? loaded.tourAhead(position) : null;
  const out = travelDays[base * placeCount + site]!;
  const back = travelDays[site * placeCount + base]!;
  const outCents = legCents[base * placeCount + site]!;
  const backCents = legCents[site * placeCount + base]! + nightCents * back;
  const gapIn = from >= 0 ? 1 + travelDays[from * placeCount + site]! : 0;
  const gapOn = to >= 0 ? 1 + travelDays[site * placeCount + to]! : 0;
  const inCents = from >= 0 ? legCents[from * placeCount + site]! + nightCents * gapIn : 0;
  const onCents = to >= 0 ? legCents[site * placeCount + to]! + nightCents * gapOn : 0;
  const span = width - 1;
  // Without the job the crew would drive straight on; so a start costs at least the present sequence, the visit and the way round.
  const least = loaded.cents + wayRoundCents(loaded, site, from, to);
  let best = atMost;
  const last = rows.last(loaded.crewIndex, job);
  for (let start = rows.first(loaded.crewIndex, job); start <= last; start += 1) {
    const value = values[offset + start]!;
    if (least + value >= best) continue;
    const released = release[offset + start]!;
    const home = released + back;
    const afterHome = home < dayCount ? backCents + homeAfter[home + 1]! : NEVER;
    const onFrom = released + gapOn;
    const stay = value + nightCents * (released - start);
    const departure = start - out;
    if (departure >= 0) {
      const arrived = homeBefore[departure]! + outCents + nightCents * out + stay;
      if (arrived < best) {
        if (home - departure <= maxNights) best = Math.min(best, arrived + afterHome);
        if (toGoAfter && onFrom - departure <= span) {
          best = Math.min(best, arrived + onCents + toGoAfter[departure * span + onFrom]!);
        }
      }
    }
    if (!freeBefore) continue;
    const freeOn = start - gapIn;
    if (freeOn < 0) continue;
    const here = inCents + stay;
    const homeEarliest = Math.max(0, home - maxNights);
    for (let left = Math.max(0, released - span); left <= freeOn; left += 1) {
      const before = freeBefore[left * span + freeOn]! + here;
      if (before >= best) continue;
      if (left >= homeEarliest && before + afterHome < best) best = before + afterHome;
      if (toGoAfter && onFrom - left <= span) {
        const through = before + onCents + toGoAfter[left * span + onFrom]!;
        if (through < best) best = through;
      }
    }
  }
  return best;
}

/** The least that the legs by way of a site cost more than those that they replace; may be negative. */
function wayRoundCents(loaded: LoadedSequence, site: number, from: number, to: number): number {
  const { base } = loaded.crew;
  const round = (before: number, after: number): number =>
    loaded.leg(before, site) + loaded.leg(site, after) - (before === after ? 0 : loaded.leg(before, after));
  let least = round(base, base);
  if (from >= 0) least = Math.min(least, round(from, base));
  if (to >= 0) least = Math.min(least, round(base, to));
  if (from >= 0 && to >= 0) least = Math.min(least, round(from, to));
  return least;
}
