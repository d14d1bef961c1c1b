import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';

/** Names for the keys that plans and messages speak of; a key that is not known stays a key. */
export class SeasonNames {
  private readonly byKind = new Map<string, ReadonlyMap<string, string>>();

  constructor(file: SeasonFile) {
    const named = (rows: readonly { key: string; name: string }[]) =>
      new Map(rows.map((row) => [row.key, row.name]));
    this.byKind.set('job', new Map(file.jobs.map((job) => [job.key, job.title])));
    this.byKind.set('crew', named(file.crews));
    this.byKind.set('person', named(file.people));
    this.byKind.set('lift', named(file.lifts));
    this.byKind.set('liftType', named(file.liftTypes));
    this.byKind.set('unit', named(file.equipmentUnits));
    this.byKind.set('equipmentKind', named(file.equipmentKinds));
    this.byKind.set('site', named(file.sites));
    this.byKind.set('warehouse', named(file.warehouses));
    this.byKind.set('customer', named(file.customers));
    this.byKind.set('partner', named(file.partners));
    this.byKind.set('ticket', named(file.ticketKinds));
  }

  of(kind: NameKind, key: string): string {
    return this.byKind.get(kind)?.get(key) ?? key;
  }
}

export type NameKind =
  | 'job'
  | 'crew'
  | 'person'
  | 'lift'
  | 'liftType'
  | 'unit'
  | 'equipmentKind'
  | 'site'
  | 'warehouse'
  | 'customer'
  | 'partner'
  | 'ticket';
