/** What was found when one part was asked. */
export interface PartHealth {
  readonly ok: boolean;
  readonly detail: string;
}

/** Asks the parts that requests need: database, migrations, queue. */
export abstract class HealthChecks {
  abstract ask(): Promise<Readonly<Record<string, PartHealth>>>;
}
