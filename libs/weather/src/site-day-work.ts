/** Weather in which a step can be done. Null means that no such limit is set, not that none applies. */
export interface StepLimits {
  /** Highest gust and highest mean wind at the height of the load. */
  readonly gustMps: number | null;
  readonly meanWindMps: number | null;
  /** Height of the load above ground, for the wind there; null: taken at 10 m, as the record gives it. */
  readonly loadHeightM: number | null;
  /** Most rain in the hour; 0 means dry. */
  readonly rainMmPerHour: number | null;
  readonly tempMinC: number | null;
  readonly tempMaxC: number | null;
  /** Least margin of the surface over the dew point; the air temperature stands in for the surface. */
  readonly dewPointMarginC: number | null;
  readonly needsDaylight: boolean;
}

/** One outside step of a site day, in the order in which they are done. */
export interface OutsideStep {
  readonly key: string;
  readonly durationMin: number;
  /** May be paused and taken up again when an hour is not workable; else it must be done in one go. */
  readonly interruptible: boolean;
  readonly limits: StepLimits;
  /** Minutes after the step that must stay as dry as the step itself asks (dry where it asks nothing). */
  readonly dryAfterMin: number;
  /** Least and most minutes between the end of the step before and the start of this one. */
  readonly lagMin: number;
  readonly maxLagMin: number | null;
  /** Work may stop for the night after this step, if the part-built state stays under its make-safe limit. */
  readonly mayStopAfter: boolean;
}

/** The outside work of one site day. */
export interface SiteDayWork {
  readonly steps: readonly OutsideStep[];
  /** Highest gust that the part-built state may see in the night; null: unknown, so the work may not stop half done. */
  readonly makeSafeGustMps: number | null;
}

/** The site days of a visit in order; null is a day without outside work, which no weather stops. */
export type VisitWork = readonly (SiteDayWork | null)[];
