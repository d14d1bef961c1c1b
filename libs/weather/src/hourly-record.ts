/** Hours of weather at a place, one entry an hour in each array; missing is NaN, never zero. */
export interface HourlyRecord {
  readonly place: {
    readonly name: string;
    readonly lat: number;
    readonly lon: number;
    readonly elevationM: number | null;
  };
  /** Where the record comes from, as its header says. */
  readonly source: string;
  /** Minutes that the record's clock is ahead of UTC the whole year through: local standard time, without summer time. */
  readonly standardOffsetMin: number;
  readonly year: Int16Array;
  /** 1 to 12. */
  readonly month: Int8Array;
  readonly dayOfMonth: Int8Array;
  /** Hour of the day in which the hour begins, 0 to 23, on the record's clock. */
  readonly hour: Int8Array;
  readonly tempC: Float32Array;
  readonly dewPointC: Float32Array;
  /** Precipitation in the hour. */
  readonly rainMm: Float32Array;
  /** Mean wind at 10 m. */
  readonly windMps: Float32Array;
  /** Highest gust in the hour at 10 m. */
  readonly gustMps: Float32Array;
}

/** A line that could not be used, with its number (from 1) and why. */
export interface BadLine {
  readonly line: number;
  readonly reason: string;
}
