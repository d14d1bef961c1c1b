import type { SeasonFile } from '../../../../../libs/contracts/src/index.ts';
import type { Schema } from '../../api/client.ts';

type Plan = Schema<'Plan'>;
type Visit = Plan['visits'][number];

/** One group of those who hear of a publishing. */
export interface ConcernedGroup {
  readonly names: readonly string[];
  /** How many messages they get together, as far as it can be known before publishing. */
  readonly messages: number;
}

/** Who hears of a publishing, by name. */
export interface Concerned {
  readonly people: ConcernedGroup;
  readonly customers: ConcernedGroup;
  readonly partners: ConcernedGroup;
  /** Of all these, those for whom no mail address is known: their messages will be held. */
  readonly withoutAddress: readonly string[];
}

/**
 * Whom publishing `next` over `before` concerns, by comparing the visits: crews and casual hands, the customers of their
 * sites, hire firms of lifts and hauliers of known runs. The server decides in the end; the numbers are what it goes by.
 */
export function concernedBy(file: SeasonFile, before: Plan | null, next: Plan): Concerned {
  const old = new Map(before?.visits.map((visit) => [visit.job, visit]));
  const now = new Map(next.visits.map((visit) => [visit.job, visit]));
  const people = new Tally();
  const customers = new Tally();
  const partners = new Tally();
  for (const job of new Set([...old.keys(), ...now.keys()])) {
    const a = old.get(job) ?? null;
    const b = now.get(job) ?? null;
    const samePlace = a !== null && b !== null && sameStay(a, b);
    if (!samePlace || a?.liftUnit !== b?.liftUnit)
      partners.addEach([liftPartner(file, a), liftPartner(file, b)]);
    if (samePlace) continue;
    people.addEach([...crewOf(file, a), ...crewOf(file, b)]);
    customers.add(customerOf(file, job), b !== null && asksSomething(file, job) ? 2 : 1);
    if (b?.deliveryDay) partners.addEach(haulersOf(file, job));
  }
  return {
    people: people.group(file.people),
    customers: customers.group(file.customers),
    partners: partners.group(file.partners),
    withoutAddress: [
      ...people.without(file.people),
      ...customers.without(file.customers),
      ...partners.without(file.partners),
    ].sort(),
  };
}

interface WithAddress {
  readonly key: string;
  readonly name: string;
  readonly email?: string | null | undefined;
}

type MaybeKey = string | null | undefined;

/** Messages by the key of who gets them. */
class Tally {
  private readonly messages = new Map<string, number>();

  add(key: MaybeKey, number: number): void {
    if (key != null) this.messages.set(key, (this.messages.get(key) ?? 0) + number);
  }

  /** One message for each of the keys, once where one is named twice. */
  addEach(keys: readonly MaybeKey[]): void {
    for (const key of new Set(keys)) this.add(key, 1);
  }

  group(rows: readonly WithAddress[]): ConcernedGroup {
    const names = rows.filter((row) => this.messages.has(row.key)).map((row) => row.name);
    return { names: names.sort(), messages: [...this.messages.values()].reduce((sum, one) => sum + one, 0) };
  }

  without(rows: readonly WithAddress[]): string[] {
    return rows.filter((row) => this.messages.has(row.key) && !row.email).map((row) => row.name);
  }
}

const sameStay = (a: Visit, b: Visit): boolean =>
  a.crew === b.crew &&
  a.days.join() === b.days.join() &&
  a.reserve.join() === b.reserve.join() &&
  a.casualHands.join() === b.casualHands.join() &&
  a.deliveryDay === b.deliveryDay;

function crewOf(file: SeasonFile, visit: Visit | null): string[] {
  if (visit === null) return [];
  const first = visit.days[0] as string;
  const last = visit.reserve.at(-1) ?? (visit.days.at(-1) as string);
  const members = file.crewMembers.filter(
    (row) => row.crew === visit.crew && row.fromDay <= last && (row.toDay == null || row.toDay >= first),
  );
  const away = (person: string) =>
    file.leave.some((row) => row.person === person && row.fromDay <= first && row.toDay >= last);
  return [...members.map((row) => row.person).filter((person) => !away(person)), ...visit.casualHands];
}

const liftPartner = (file: SeasonFile, visit: Visit | null): MaybeKey =>
  file.lifts.find((lift) => lift.key === visit?.liftUnit)?.partner;

function customerOf(file: SeasonFile, job: string): MaybeKey {
  const site = file.jobs.find((row) => row.key === job)?.site;
  return file.sites.find((row) => row.key === site)?.customer;
}

const asksSomething = (file: SeasonFile, job: string): boolean =>
  file.readinessItems.some(
    (item) => item.job === job && item.responsible === 'customer' && item.state !== 'waived',
  );

const haulersOf = (file: SeasonFile, job: string): MaybeKey[] =>
  file.deliveryRuns.filter((run) => run.job === job).map((run) => run.haulier);
