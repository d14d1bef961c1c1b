import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import type { CasualHand, Crew, Hand, HeldTicket } from '../../../season/src/problem.ts';
import { groupBy } from '../tables.ts';
import { type IntakeWarning, warning } from '../warning.ts';
import { dayMask, dayOfCell, type Horizon, inAnySpan, onWeekday } from './day-mask.ts';

/** The place id of a casual hand's home; no key of the file holds a colon. */
export const homePlaceId = (person: string): string => `home:${person}`;

/** The crews, with who belongs to them when. Trainees count among the heads that sleep away, not among the hands. */
export function buildCrews(file: SeasonFile, horizon: Horizon): Crew[] {
  const closed = groupBy(file.crewClosedDays, (row) => row.crew);
  const members = groupBy(file.crewMembers, (row) => row.crew);
  return file.crews.map((crew) => {
    const isClosed = inAnySpan(closed.get(crew.key) ?? []);
    const rows = members.get(crew.key) ?? [];
    const hands = groupBy(
      rows.filter((row) => row.role !== 'trainee'),
      (row) => row.person,
    );
    return {
      id: crew.key,
      name: crew.name,
      base: crew.base,
      works: dayMask(horizon, (day) => onWeekday(crew.weekdays, day) && !isClosed(day)),
      members: [...hands]
        .map(([hand, spans]) => ({ hand, belongs: dayMask(horizon, inAnySpan(spans)) }))
        .filter(({ belongs }) => belongs.includes('1')),
      heads: mostHeads(rows, horizon),
      dayCents: crew.dayCents,
      standbyDayCents: crew.standbyDayCents,
      perKmCents: crew.perKmCents,
      nightPerHeadCents: crew.nightPerHeadCents,
      maxNightsAway: crew.maxNightsAway,
      sameDayDriveMin: crew.sameDayDriveMin,
      driveMinPerDay: crew.driveMinPerDay,
    };
  });
}

/** The regular hands who belong to a crew on some day of the season. */
export function buildHands(file: SeasonFile, crews: readonly Crew[], horizon: Horizon): Hand[] {
  const used = new Set(crews.flatMap((crew) => crew.members.map((member) => member.hand)));
  const people = peopleFacts(file, horizon);
  return file.people
    .filter((person) => used.has(person.key))
    .map((person) => ({
      id: person.key,
      name: person.name,
      available: people.available(person.key, () => true),
      tickets: people.tickets(person.key),
    }));
}

/** The casual hands of whom all is known that planning needs; the others are left out with a warning. */
export function buildCasualHands(
  file: SeasonFile,
  horizon: Horizon,
): { hands: CasualHand[]; warnings: IntakeWarning[] } {
  const hands: CasualHand[] = [];
  const warnings: IntakeWarning[] = [];
  const people = peopleFacts(file, horizon);
  for (const person of file.people.filter((row) => row.kind === 'casual')) {
    const missing = (['homeLat', 'homeLon', 'rangeKm', 'dayCents'] as const).filter(
      (name) => person[name] === null || person[name] === undefined,
    );
    if (missing.length > 0) {
      const message = `The casual hand ${person.name} is left out of the plan: ${missing.join(', ')} is not known. Fill it in.`;
      warnings.push(
        warning('casual-hand-incomplete', 'people', person.key, message, { missing: missing.join(',') }),
      );
      continue;
    }
    const free = (['travelFixedCents', 'travelPerKmCents'] as const).filter(
      (name) => person[name] === null || person[name] === undefined,
    );
    if (free.length > 0) {
      const message = `For the casual hand ${person.name} ${free.join(' and ')} is empty and counts as 0. Fill it in if the journey is paid.`;
      warnings.push(
        warning('casual-cost-assumed', 'people', person.key, message, { missing: free.join(',') }),
      );
    }
    const weekdays = person.weekdays ?? '1111111';
    hands.push({
      id: person.key,
      name: person.name,
      available: people.available(person.key, (day) => onWeekday(weekdays, day)),
      tickets: people.tickets(person.key),
      home: homePlaceId(person.key),
      rangeKm: person.rangeKm as number,
      dayCents: person.dayCents as number,
      travelFixedCents: person.travelFixedCents ?? 0,
      travelPerKmCents: person.travelPerKmCents ?? 0,
    });
  }
  return { hands, warnings };
}

function peopleFacts(file: SeasonFile, horizon: Horizon) {
  const leave = groupBy(file.leave, (row) => row.person);
  const tickets = groupBy(file.tickets, (row) => row.person);
  return {
    available: (person: string, also: (day: number) => boolean): string => {
      const away = inAnySpan(leave.get(person) ?? []);
      return dayMask(horizon, (day) => also(day) && !away(day));
    },
    tickets: (person: string): HeldTicket[] =>
      (tickets.get(person) ?? []).map((row) => heldTicket(row, horizon)),
  };
}

/** An empty expiry means in the file that the ticket does not expire; it then holds to the end of the season. */
function heldTicket(row: SeasonRow<'tickets'>, horizon: Horizon): HeldTicket {
  const validFrom = dayOfCell(row.validFrom);
  const validTo = row.expiresOn ? dayOfCell(row.expiresOn) : horizon.lastDay;
  return { ticket: row.ticket, validFrom, validTo };
}

function mostHeads(rows: readonly SeasonRow<'crewMembers'>[], horizon: Horizon): number {
  const people = [...groupBy(rows, (row) => row.person).values()].map((spans) => inAnySpan(spans));
  let most = 0;
  for (let day: number = horizon.firstDay; day <= horizon.lastDay; day += 1)
    most = Math.max(most, people.filter((belongs) => belongs(day)).length);
  return most;
}
