import type { SeasonFile } from '../../../contracts/src/index.ts';
import { addMinutes, type Instant } from '../../../kernel/src/index.ts';
import { byKey } from '../tables.ts';
import type { BriefVisit } from './brief-input.ts';

/** The last moments until which what is booked for the day can be called off, and what nobody wrote down. */
export interface BriefDeadline {
  /** The earliest of the known moments; null: none is known. */
  readonly at: Instant | null;
  readonly what: string;
  /** Fees of all whose moment is past; null: one of them is unknown. */
  readonly pastFeeCents: number | null;
  readonly unknown: readonly string[];
}

interface Item {
  readonly what: string;
  readonly at: Instant | null;
  readonly feeCents: number | null;
}

/** What must be decided by when: lifts of the day, a truck that is still to come, beds, ferries and flights of the job or its crew. */
export function briefDeadline(
  file: SeasonFile,
  visit: BriefVisit,
  shiftStart: Instant,
  now: Instant,
): BriefDeadline {
  const items = [...liftItems(file, visit, shiftStart), ...truckItems(file, visit), ...beds(file, visit)];
  const known = items.filter((item): item is Item & { at: Instant } => item.at !== null);
  const [first] = known.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
  const past = known.filter(({ at }) => at < now).map(({ feeCents }) => feeCents);
  return {
    at: first?.at ?? null,
    what: first?.what ?? '',
    pastFeeCents: past.includes(null) ? null : (past as number[]).reduce((sum, each) => sum + each, 0),
    unknown: items.filter(({ at }) => at === null).map(({ what }) => what),
  };
}

function liftItems(file: SeasonFile, visit: BriefVisit, shiftStart: Instant): Item[] {
  const lifts = byKey(file.lifts);
  return visit.lifts.map((key) => {
    const lift = lifts.get(key);
    const hours = lift?.callOffHours ?? null;
    return {
      what: lift?.name ?? key,
      at: hours === null ? null : addMinutes(shiftStart, -hours * 60),
      feeCents: lift?.callOffFeeCents ?? null,
    };
  });
}

function truckItems(file: SeasonFile, { job, day }: BriefVisit): Item[] {
  return file.deliveryRuns
    .filter((run) => run.job === job && run.day >= day && run.state !== 'off' && run.state !== 'done')
    .map((run) => ({
      what: `Delivery of ${run.day}`,
      at: (run.cancelUntil ?? null) as Instant | null,
      feeCents: run.feeCents ?? null,
    }));
}

const KINDS = { bed: 'Beds', ferry: 'Ferry', flight: 'Flight' } as const;

function beds(file: SeasonFile, { job, crew, day, endDay }: BriefVisit): Item[] {
  return file.bookings
    .filter(
      (row) =>
        (row.job === job || row.crew === crew) &&
        row.state !== 'off' &&
        row.fromDay <= endDay &&
        row.toDay >= day,
    )
    .map((row) => ({
      what: `${KINDS[row.kind]} of ${row.fromDay}`,
      at: (row.cancelUntil ?? null) as Instant | null,
      feeCents: row.feeCents ?? null,
    }));
}
