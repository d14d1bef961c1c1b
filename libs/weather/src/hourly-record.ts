import type { Instant } from '../../kernel/src/index.ts';

/** Hours of weather at a place, one entry an hour in each array, 25 bytes an hour; missing is NaN, never zero. */
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
  /** Months taken from different years and put together: one made-up year, whose years mean nothing. */
  readonly typicalYear: boolean;
  /**
   * Hours since 1970-01-01T00:00 on the record's clock to the start of the hour; ascending, no duplicates, gaps allowed.
   * The minute in UTC is `hourIndex * 60 - standardOffsetMin`.
   */
  readonly hourIndex: Int32Array;
  readonly tempC: Float32Array;
  readonly dewPointC: Float32Array;
  /** Precipitation in the hour. */
  readonly rainMm: Float32Array;
  /** Mean wind at 10 m. */
  readonly windMps: Float32Array;
  /** Highest gust in the hour at 10 m. */
  readonly gustMps: Float32Array;
  /** Thunder in the hour: 1 yes, 0 no, -1 unknown. */
  readonly thunder: Int8Array;
}

/** A forecast as it was issued: one member if deterministic, several equally likely ones if an ensemble. */
export interface Forecast {
  readonly source: string;
  readonly issuedAt: Instant;
  readonly members: readonly HourlyRecord[];
}

/** A line that could not be used, with its number (from 1) and why. */
export interface BadLine {
  readonly line: number;
  readonly reason: string;
  /** The text that stood in the way, cut to 80 characters. */
  readonly value?: string;
}
