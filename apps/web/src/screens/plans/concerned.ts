import type { SeasonFile } from '../../../../../libs/contracts/src/index.ts';
import type { Schema } from '../../api/client.ts';

type Plan = Schema<'Plan'>;
type Visit = Plan['visits'][number];

/** Who hears of a publishing, by name. */
export interface Concerned {
  readonly people: readonly string[];
  readonly customers: readonly string[];
  readonly partners: readonly string[];
  /** Of all these, those for whom no mail address is known: their messages will be held. */
  readonly withoutAddress: readonly string[];
}

/**
 * Whom publishing `next` over `before` concerns, by comparing the visits: crews and casual hands, the customers of their
 * sites, hire firms of lifts and hauliers of known runs. The server decides; this is what it goes by.
 */
export function concernedBy(file: SeasonFile, before: Plan | null, next: Plan): Concerned {
  const old = new Map(before?.visits.map((visit) => [visit.job, visit]));
  const now = new Map(next.visits.map((visit) => [visit.job, visit]));
  const people = new Set<string>();
  const customers = new Set<string>();
  const partners = new Set<string>();
  for (const job of new Set([...old.keys(), ...now.keys()])) {
    const a = old.get(job);
    const b = now.get(job);
    if (a && b && sameStay(a, b)) {
      addIf(partners, a.liftUnit !== b.liftUnit ? [liftPartner(file, a), liftPartner(file, b)] : []);
      continue;
    }
    for (const visit of [a, b]) {
      if (!visit) continue;
      addIf(people, crewOf(file, visit));
      addIf(partners, [liftPartner(file, visit)]);
    }
    addIf(customers, [customerOf(file, job)]);
    addIf(partners, b?.deliveryDay ? haulersOf(file, job) : []);
  }
  return named(file, people, customers, partners);
}

const sameStay = (a: Visit, b: Visit): boolean =>
  a.crew === b.crew &&
  a.days.join() === b.days.join() &&
  a.reserve.join() === b.reserve.join() &&
  a.casualHands.join() === b.casualHands.join() &&
  a.deliveryDay === b.deliveryDay;

function addIf(set: Set<string>, keys: readonly (string | null | undefined)[]): void {
  for (const key of keys) if (key != null) set.add(key);
}

function crewOf(file: SeasonFile, visit: Visit): string[] {
  const first = visit.days[0] as string;
  const last = visit.reserve.at(-1) ?? (visit.days.at(-1) as string);
  const members = file.crewMembers.filter(
    (row) => row.crew === visit.crew && row.fromDay <= last && (row.toDay == null || row.toDay >= first),
  );
  return [...members.map((row) => row.person), ...visit.casualHands];
}

const liftPartner = (file: SeasonFile, visit: Visit): string | null | undefined =>
  file.lifts.find((lift) => lift.key === visit.liftUnit)?.partner;

function customerOf(file: SeasonFile, job: string): string | undefined {
  const site = file.jobs.find((row) => row.key === job)?.site;
  return file.sites.find((row) => row.key === site)?.customer;
}

const haulersOf = (file: SeasonFile, job: string): (string | null | undefined)[] =>
  file.deliveryRuns.filter((run) => run.job === job).map((run) => run.haulier);

interface WithAddress {
  readonly key: string;
  readonly name: string;
  readonly email?: string | null | undefined;
}

function named(
  file: SeasonFile,
  people: ReadonlySet<string>,
  customers: ReadonlySet<string>,
  partners: ReadonlySet<string>,
): Concerned {
  const pick = (rows: readonly WithAddress[], keys: ReadonlySet<string>) =>
    rows.filter((row) => keys.has(row.key));
  const all = [
    pick(file.people, people),
    pick(file.customers, customers),
    pick(file.partners, partners),
  ] as const;
  const names = (rows: readonly WithAddress[]) => rows.map((row) => row.name).sort();
  return {
    people: names(all[0]),
    customers: names(all[1]),
    partners: names(all[2]),
    withoutAddress: names(all.flat().filter((row) => !row.email)),
  };
}
