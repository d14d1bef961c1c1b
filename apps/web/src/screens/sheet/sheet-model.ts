/** What the season sheet draws: days as dates of the site, nothing of any program but our own. */
export interface SheetModel {
  readonly firstDay: string;
  readonly lastDay: string;
  readonly currency: string;
  /** The day that the season is looked at from. */
  readonly asOfDay: string | null;
  readonly sites: readonly SheetSite[];
}

export interface SheetSite {
  readonly key: string;
  readonly name: string;
  readonly zone: string;
  readonly closed: readonly { readonly from: string; readonly to: string; readonly reason: string | null }[];
  readonly jobs: readonly SheetJob[];
}

export interface SheetJob {
  readonly key: string;
  readonly title: string;
  readonly visitKind: string;
  readonly siteReadyFrom: string;
  readonly goodsFrom: string | null;
  readonly promisedBy: string | null;
  readonly visit: SheetVisit | null;
  /** Why it has no visit, in plain words; empty where it has one. */
  readonly whyNot: readonly string[];
  readonly openMusts: number;
}

export interface SheetVisit {
  readonly crewKey: string;
  readonly crewName: string;
  readonly days: readonly {
    readonly date: string;
    readonly outside: boolean | null;
    readonly hours: number | null;
  }[];
  readonly reserve: readonly string[];
  readonly deliveryDay: string | null;
  readonly lift: { readonly name: string; readonly days: readonly string[] } | null;
  readonly people: readonly { readonly name: string; readonly note: string }[];
  readonly equipment: readonly string[];
  readonly fromBase: boolean;
  readonly costLines: readonly { readonly words: string; readonly cents: number }[];
  /** What keeps it from being earlier, the tightest first. */
  readonly why: readonly string[];
}

/** Days by which the last site day lies behind the promise; 0: kept, null: nothing was promised or nothing is planned. */
export function lateDays(job: SheetJob, between: (from: string, to: string) => number): number | null {
  const last = job.visit?.days.at(-1)?.date;
  if (!job.promisedBy || !last) return null;
  return Math.max(0, between(job.promisedBy, last));
}
