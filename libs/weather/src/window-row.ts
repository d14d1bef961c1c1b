/** The odds of one date for a visit that begins on it. Shares are 0 to 1; null where no day is known. */
export interface WindowRow {
  /** Date of the year, 0 to 365; 29 February is 59. */
  readonly date: number;
  readonly month: number;
  readonly dayOfMonth: number;
  /** Share of known days around this date on which the first outside day's work could be closed. */
  readonly goodShare: number | null;
  /** The same after shrinkage towards the month, and how much of it is the date's own: 1 is all. */
  readonly shrunkGoodShare: number | null;
  readonly ownWeight: number;
  /** 95 % interval (Wilson) of `shrunkGoodShare`, with as many trials as there are years: days of one year around a date hang together. */
  readonly goodLow: number;
  readonly goodHigh: number;
  /** Known days around this date, and the different years they are of. */
  readonly knownDays: number;
  readonly years: number;
  /** Days lost before the visit's outside work is done: mean, and the days that 50, 80 and 95 % of visits keep to; after shrinkage. */
  readonly lostMean: number | null;
  readonly lostP50: number | null;
  readonly lostP80: number | null;
  readonly lostP95: number | null;
  /** Share of visits that lose as many days as are counted at all, or more. */
  readonly hopelessShare: number | null;
  /**
   * Minute after midnight of the record's clock by which work must begin to be closed on 4 of 5 good days; steps of 15 from the start of the
   * shift, rounded down.
   */
  readonly latestStartMin: number | null;
  /** The same without the 4 of 5: the middle of the good days. */
  readonly middleLatestStartMin: number | null;
}
