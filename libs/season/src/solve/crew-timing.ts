/**
 * Exact timing of one crew's sequence of visits: a dynamic programme over days. The cost of a visit is any function of its start;
 * whether the crew goes home between two visits is decided on the way, and no tour is longer than the nights allow.
 *
 * A tour is told apart by its departure day, so the tables of a visit are [departure][day - departure] with as many days as
 * the nights allow. "Free" at a site on day t means released on t or waiting there since: nights are paid meanwhile.
 * "Home from h" means that a day of travel or work may be h.
 */
import type { CompiledCrew, CompiledSeason } from '../compile/compiled-season.ts';
import type { LoadedSequence } from './insertion.ts';
import type { VisitRows } from './visit-rows.ts';

const NEVER = Number.POSITIVE_INFINITY;

/** What lies behind or ahead of one visit. */
interface VisitTables {
  readonly job: number;
  /** Version of the job's row that these were worked out from. */
  readonly version: number;
  /**
   * Behind: cheapest cost of being free at this site. Ahead: cheapest cost still to come when this visit may start on the day or later,
   * waiting beforehand. [departure * width + day - departure]
   */
  readonly tour: Float64Array;
  /** Behind: cheapest cost with this visit done and home from h. Ahead: cheapest cost still to come when home from h. [h] */
  readonly home: Float64Array;
}

export interface TimedVisit {
  readonly job: number;
  readonly start: number;
  readonly fromBase: boolean;
}

export class CrewTiming implements LoadedSequence {
  readonly season: CompiledSeason;
  readonly rows: VisitRows;
  readonly crewIndex: number;
  readonly crew: CompiledCrew;
  /** Days of a tour that are told apart: a departure and as many days after it as nights are allowed. */
  readonly width: number;
  private behind: VisitTables[] = [];
  private ahead: VisitTables[] = [];
  private readonly spare: { tour: Float64Array; home: Float64Array }[] = [];
  private readonly ends: Endings = { homeCents: 0, homeEarliest: 0, onCents: 0, onFrom: 0, next: null };
  private readonly startHome: Float64Array;
  private readonly endHome: Float64Array;
  private sequence: readonly number[] = [];

  constructor(season: CompiledSeason, rows: VisitRows, crewIndex: number) {
    this.season = season;
    this.rows = rows;
    this.crewIndex = crewIndex;
    this.crew = season.crews[crewIndex]!;
    this.width = Math.max(0, Math.min(this.crew.maxNights, season.dayCount - 1)) + 1;
    this.startHome = new Float64Array(season.dayCount + 1);
    this.endHome = new Float64Array(season.dayCount + 1);
  }

  /** Works out both directions for a sequence of jobs; what lies before or after the first change is kept from the last time. */
  load(sequence: readonly number[]): void {
    this.loadAhead(sequence);
    const versions = sequence.map((job) => this.rows.refresh(this.crewIndex, job));
    let kept = 0;
    while (kept < sequence.length && matches(this.behind[kept], sequence[kept]!, versions[kept]!)) kept += 1;
    this.spare.push(...this.behind.splice(kept));
    for (let at = kept; at < sequence.length; at += 1) {
      this.behind.push({ job: sequence[at]!, version: versions[at]!, ...this.freshTables() });
      this.forward(at);
    }
  }

  /** Works out the costs still to come only; enough for `cents` and `read`. */
  loadAhead(sequence: readonly number[]): void {
    const versions = sequence.map((job) => this.rows.refresh(this.crewIndex, job));
    this.sequence = [...sequence];
    const old = this.ahead;
    let kept = 0;
    while (
      kept < Math.min(sequence.length, old.length) &&
      matches(
        old[old.length - 1 - kept],
        sequence[sequence.length - 1 - kept]!,
        versions[sequence.length - 1 - kept]!,
      )
    ) {
      kept += 1;
    }
    this.spare.push(...old.slice(0, old.length - kept));
    const fresh = sequence.length - kept;
    this.ahead = [
      ...sequence.slice(0, fresh).map((job, at) => ({ job, version: versions[at]!, ...this.freshTables() })),
      ...old.slice(old.length - kept),
    ];
    for (let at = fresh - 1; at >= 0; at -= 1) this.backward(at);
  }

  get length(): number {
    return this.sequence.length;
  }

  tourBehind(position: number): Float64Array {
    return this.behind[position]!.tour;
  }

  tourAhead(position: number): Float64Array {
    return this.ahead[position]!.tour;
  }

  /** Cost of the loaded sequence, Infinity if it cannot be done. */
  get cents(): number {
    return this.homeToGo(0)[0]!;
  }

  /** The best starts of the loaded sequence, earlier ones where two are as good; null if it cannot be done. */
  read(): TimedVisit[] | null {
    if (this.cents === NEVER) return null;
    const visits: TimedVisit[] = [];
    let homeFrom = 0;
    let onTour: { departure: number; freeFrom: number } | null = null;
    for (let at = 0; at < this.sequence.length; at += 1) {
      const picked: { start: number; departure: number } = onTour
        ? this.pickStart(at, onTour.departure, onTour.freeFrom)
        : this.pickDeparture(at, homeFrom);
      visits.push({ job: this.sequence[at]!, start: picked.start, fromBase: onTour === null });
      const release = this.releaseOf(at, picked.start);
      const next = this.afterVisit(at, picked.start, picked.departure);
      if (next.goesHome) {
        homeFrom = release + this.days(this.siteAt(at), this.crew.base) + 1;
        onTour = null;
      } else {
        onTour = {
          departure: picked.departure,
          freeFrom: release + this.days(this.siteAt(at), this.siteAt(at + 1)) + 1,
        };
      }
    }
    return visits;
  }

  private freshTables(): { tour: Float64Array; home: Float64Array } {
    const { dayCount } = this.season;
    const { tour, home } = this.spare.pop() ?? {
      tour: new Float64Array(dayCount * this.width),
      home: new Float64Array(dayCount + 1),
    };
    return { tour, home };
  }

  home(position: number): Float64Array {
    return position === 0 ? this.startHome : this.behind[position - 1]!.home;
  }

  homeToGo(position: number): Float64Array {
    return position === this.sequence.length ? this.endHome : this.ahead[position]!.home;
  }

  siteAt(position: number): number {
    return this.season.jobs[this.sequence[position]!]!.site;
  }

  days(from: number, to: number): number {
    return this.crew.travelDays[from * this.season.placeCount + to]!;
  }

  leg(from: number, to: number): number {
    return this.crew.legCents[from * this.season.placeCount + to]!;
  }

  private releaseOf(position: number, start: number): number {
    return this.season.slots.release[this.rows.offset(this.crewIndex, this.sequence[position]!) + start]!;
  }

  private forward(position: number): void {
    const { season, rows, crew, width } = this;
    const { dayCount } = season;
    const { base, nightCents, maxNights } = crew;
    const job = this.sequence[position]!;
    const site = this.siteAt(position);
    const { tour: free, home } = this.behind[position]!;
    const values = rows.values;
    const offset = rows.offset(this.crewIndex, job);
    const release = season.slots.release;
    const first = rows.first(this.crewIndex, job);
    const last = rows.last(this.crewIndex, job);
    free.fill(NEVER);
    const out = this.days(base, site);
    const outCents = this.leg(base, site);
    const homeBefore = this.home(position);
    for (let start = Math.max(first, out); start <= last; start += 1) {
      // A closed slot has no release.
      if (values[offset + start] === NEVER) continue;
      const departure = start - out;
      const stayed = release[offset + start]! - departure;
      if (stayed >= width) continue;
      free[departure * width + stayed] =
        homeBefore[departure]! + outCents + values[offset + start]! + nightCents * stayed;
    }
    if (position > 0) {
      const from = this.siteAt(position - 1);
      const gap = 1 + this.days(from, site);
      const legCents = this.leg(from, site);
      const before = this.behind[position - 1]!.tour;
      for (let departure = 0; departure < dayCount; departure += 1) {
        const row = departure * width;
        for (let start = Math.max(first, departure + gap); start <= last; start += 1) {
          const stayedBefore = start - gap - departure;
          if (stayedBefore >= width) break;
          const arrived = before[row + stayedBefore]!;
          if (arrived === NEVER) continue;
          if (values[offset + start] === NEVER) continue;
          const released = release[offset + start]!;
          if (released - departure >= width) continue;
          const cents = arrived + legCents + values[offset + start]! + nightCents * (released - start + gap);
          if (cents < free[row + released - departure]!) free[row + released - departure] = cents;
        }
      }
    }
    const back = this.days(site, base);
    const backCents = this.leg(site, base) + nightCents * back;
    home.fill(NEVER);
    for (let departure = 0; departure < dayCount; departure += 1) {
      const row = departure * width;
      let waiting = NEVER;
      for (let stayed = 0; stayed < width; stayed += 1) {
        const cents = free[row + stayed]!;
        const homeOn = departure + stayed + back;
        if (
          cents !== NEVER &&
          homeOn < dayCount &&
          stayed + back <= maxNights &&
          cents + backCents < home[homeOn + 1]!
        ) {
          home[homeOn + 1] = cents + backCents;
        }
        waiting = Math.min(waiting + nightCents, cents);
        free[row + stayed] = waiting;
      }
    }
    for (let day = 1; day <= dayCount; day += 1) home[day] = Math.min(home[day]!, home[day - 1]!);
  }

  private backward(position: number): void {
    const { season, rows, width } = this;
    const { nightCents, base } = this.crew;
    const { dayCount } = season;
    const job = this.sequence[position]!;
    const site = this.siteAt(position);
    const { tour: toGo, home: homeToGo } = this.ahead[position]!;
    const values = rows.values;
    const offset = rows.offset(this.crewIndex, job);
    toGo.fill(NEVER);
    homeToGo.fill(NEVER);
    const out = this.days(base, site);
    const outCents = this.leg(base, site) + nightCents * out;
    const last = rows.last(this.crewIndex, job);
    for (let start = rows.first(this.crewIndex, job); start <= last; start += 1) {
      if (values[offset + start] === NEVER) continue;
      const ends = this.endings(position, start);
      for (let departure = Math.max(0, start - width + 1); departure <= start; departure += 1) {
        toGo[departure * width + start - departure] = endingCents(ends, departure, width);
      }
      if (start >= out) {
        const cents = outCents + endingCents(ends, start - out, width);
        homeToGo[start - out] = cents;
      }
    }
    for (let departure = 0; departure < dayCount; departure += 1) {
      const row = departure * width;
      for (let stayed = width - 2; stayed >= 0; stayed -= 1) {
        const waited = toGo[row + stayed + 1]! + nightCents;
        if (waited < toGo[row + stayed]!) toGo[row + stayed] = waited;
      }
    }
    for (let day = dayCount - 1; day >= 0; day -= 1)
      homeToGo[day] = Math.min(homeToGo[day]!, homeToGo[day + 1]!);
  }

  /** What follows a visit that starts on a day: home, or straight on to the next one. Overwritten by the next call. */
  private endings(position: number, start: number): Endings {
    const { season, rows, crew } = this;
    const job = this.sequence[position]!;
    const site = this.siteAt(position);
    const released = this.releaseOf(position, start);
    const stay =
      rows.values[rows.offset(this.crewIndex, job) + start]! + crew.nightCents * (released - start);
    const back = this.days(site, crew.base);
    const home = released + back;
    const { ends } = this;
    ends.homeEarliest = home - crew.maxNights;
    ends.homeCents =
      home < season.dayCount
        ? stay + this.leg(site, crew.base) + crew.nightCents * back + this.homeToGo(position + 1)[home + 1]!
        : NEVER;
    ends.next = null;
    if (position + 1 < this.sequence.length) {
      const gap = 1 + this.days(site, this.siteAt(position + 1));
      ends.onCents = stay + this.leg(site, this.siteAt(position + 1)) + crew.nightCents * gap;
      ends.onFrom = released + gap;
      ends.next = this.ahead[position + 1]!.tour;
    }
    return ends;
  }

  private afterVisit(position: number, start: number, departure: number): { goesHome: boolean } {
    const ends = this.endings(position, start);
    const home = departure >= ends.homeEarliest ? ends.homeCents : NEVER;
    return { goesHome: home <= straightCents(ends, departure, this.width) };
  }

  private pickDeparture(position: number, homeFrom: number): { start: number; departure: number } {
    const { rows, crew } = this;
    const job = this.sequence[position]!;
    const offset = rows.offset(this.crewIndex, job);
    const out = this.days(crew.base, this.siteAt(position));
    let best = { start: -1, departure: -1 };
    let least = NEVER;
    for (
      let start = Math.max(rows.first(this.crewIndex, job), homeFrom + out);
      start <= rows.last(this.crewIndex, job);
      start += 1
    ) {
      if (rows.values[offset + start] === NEVER) continue;
      const cents = endingCents(this.endings(position, start), start - out, this.width);
      if (cents < least) {
        least = cents;
        best = { start, departure: start - out };
      }
    }
    return best;
  }

  private pickStart(position: number, departure: number, from: number): { start: number; departure: number } {
    const { rows, crew, width } = this;
    const job = this.sequence[position]!;
    const offset = rows.offset(this.crewIndex, job);
    let best = { start: -1, departure };
    let least = NEVER;
    const last = Math.min(rows.last(this.crewIndex, job), departure + width - 1);
    for (let start = Math.max(rows.first(this.crewIndex, job), from); start <= last; start += 1) {
      if (rows.values[offset + start] === NEVER) continue;
      const cents =
        endingCents(this.endings(position, start), departure, width) + crew.nightCents * (start - from);
      if (cents < least) {
        least = cents;
        best = { start, departure };
      }
    }
    return best;
  }
}

interface Endings {
  homeCents: number;
  /** A tour that left before this day may not go home from here: too many nights. */
  homeEarliest: number;
  onCents: number;
  onFrom: number;
  next: Float64Array | null;
}

function matches(tables: VisitTables | undefined, job: number, version: number): boolean {
  return tables !== undefined && tables.job === job && tables.version === version;
}

function straightCents(ends: Endings, departure: number, width: number): number {
  if (!ends.next || ends.onFrom - departure >= width) return NEVER;
  return ends.onCents + ends.next[departure * width + ends.onFrom - departure]!;
}

function endingCents(ends: Endings, departure: number, width: number): number {
  const home = departure >= ends.homeEarliest ? ends.homeCents : NEVER;
  return Math.min(home, straightCents(ends, departure, width));
}
