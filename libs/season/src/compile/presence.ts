import type { SeasonProblem, SiteDay } from '../problem.ts';
import { casualCovers, type Shortage } from './casual-covers.ts';
import type { CoverList } from './compiled-season.ts';
import { maskDays } from './resources.ts';

interface DayHand {
  readonly present: Uint8Array;
  holds(ticket: string, day: number): boolean;
}

/** Who of a crew is there on a day, and which casual hands could make up what is short. */
export class Presence {
  private readonly problem: SeasonProblem;
  private readonly members: readonly (readonly DayHand[])[];
  private readonly casuals: readonly {
    readonly hand: DayHand;
    readonly home: number;
    readonly usable: boolean;
  }[];
  private readonly known = new Map<string, number>();
  readonly covers: CoverList[] = [{ sets: [new Int16Array(0)], cents: new Float64Array(1) }];

  constructor(problem: SeasonProblem, dayCount: number) {
    this.problem = problem;
    const hands = new Map(problem.hands.map((hand) => [hand.id, hand]));
    const dayHand = (hand: SeasonProblem['hands'][number], present: Uint8Array): DayHand => ({
      present,
      holds: (ticket, day) =>
        hand.tickets.some(
          (held) =>
            held.ticket === ticket &&
            problem.firstDay + day >= held.validFrom &&
            problem.firstDay + day <= held.validTo,
        ),
    });
    this.members = problem.crews.map((crew) =>
      crew.members.flatMap((member) => {
        const hand = hands.get(member.hand);
        if (!hand) return [];
        const belongs = maskDays(member.belongs, dayCount, `belongs of ${member.hand}`);
        const available = maskDays(hand.available, dayCount, `available of ${hand.id}`);
        return [
          dayHand(
            hand,
            belongs.map((is, day) => is & available[day]!),
          ),
        ];
      }),
    );
    this.casuals = problem.casualHands.map((hand) => ({
      hand: dayHand(hand, maskDays(hand.available, dayCount, `available of ${hand.id}`)),
      home: problem.travel.places.indexOf(hand.home),
      // A hand that is a regular one too is never named as a casual hand (rule 4).
      usable: !hands.has(hand.id),
    }));
  }

  /** The number of the cover list of a visit with this chain of days, or what stays short whoever comes. */
  cover(crew: number, job: number, chain: readonly number[], siteDays: number): number | 'hands' | 'tickets' {
    const { pattern } = this.problem.jobs[job]!;
    const short = pattern.flatMap((siteDay, k) => this.shortagesOf(crew, siteDay, chain[k]!));
    if (short.length === 0) return 0;
    const able = this.ableCasuals(job, chain);
    const shortages: (Shortage & { ticket: string | null })[] = short.map((one) => ({
      missing: one.missing,
      ticket: one.ticket,
      helpers: able.filter(
        (casual) => one.ticket === null || this.casuals[casual]!.hand.holds(one.ticket, one.day),
      ),
    }));
    const never = shortages.find((one) => one.helpers.length < one.missing);
    if (never) return never.ticket === null ? 'hands' : 'tickets';
    const key = `${job}:${shortages.map((one) => `${one.missing}/${one.helpers.join('.')}`).join(';')}`;
    const before = this.known.get(key);
    if (before !== undefined) return before;
    const list = casualCovers(shortages, (casual) => this.casualCents(casual, job, siteDays));
    this.known.set(key, this.covers.length);
    this.covers.push(list);
    return this.covers.length - 1;
  }

  /** What one casual hand costs on one job (README, line `casualHands`). */
  casualCents(casual: number, job: number, siteDays: number): number {
    const hand = this.problem.casualHands[casual]!;
    const km = this.kmToSite(casual, job);
    return siteDays * hand.dayCents + Math.round(hand.travelFixedCents + hand.travelPerKmCents * 2 * km);
  }

  private kmToSite(casual: number, job: number): number {
    const { places, distanceKm } = this.problem.travel;
    return distanceKm[this.casuals[casual]!.home]![places.indexOf(this.problem.jobs[job]!.site)]!;
  }

  private ableCasuals(job: number, chain: readonly number[]): number[] {
    return this.casuals.flatMap(({ hand, usable }, index) => {
      const inRange = this.kmToSite(index, job) <= this.problem.casualHands[index]!.rangeKm;
      return usable && inRange && chain.every((day) => hand.present[day] === 1) ? [index] : [];
    });
  }

  private shortagesOf(
    crew: number,
    siteDay: SiteDay,
    day: number,
  ): { missing: number; ticket: string | null; day: number }[] {
    const there = this.members[crew]!.filter((hand) => hand.present[day] === 1);
    const short: { missing: number; ticket: string | null; day: number }[] = [];
    for (const need of siteDay.tickets) {
      const missing = need.count - there.filter((hand) => hand.holds(need.ticket, day)).length;
      if (missing > 0) short.push({ missing, ticket: need.ticket, day });
    }
    if (siteDay.hands > there.length)
      short.push({ missing: siteDay.hands - there.length, ticket: null, day });
    return short;
  }
}
