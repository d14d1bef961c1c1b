import type { SeasonFile } from '../../../contracts/src/index.ts';
import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import type { Forecast, LeadWeights, WindowRow } from '../../../weather/src/index.ts';

/** The published visit, as far as a decision on its first outside day asks for it. */
export interface BriefVisit {
  readonly id: string;
  readonly job: string;
  readonly crew: string;
  /** The first outside day, and the hours planned on it. */
  readonly day: LocalDate;
  readonly plannedHours: number;
  readonly endDay: LocalDate;
  /** Days held back for weather. */
  readonly reserveDays: readonly LocalDate[];
  readonly deliveryDay: LocalDate | null;
  /** Those asked or accepted who are there on the day. */
  readonly people: readonly { readonly key: string; readonly role: 'lead' | 'hand' | 'trainee' | 'casual' }[];
  /** Keys of the lifts that are held for the day. */
  readonly lifts: readonly string[];
}

/** The newest forecast of one service for the site. */
export interface BriefForecast {
  readonly series: string;
  readonly source: string;
  /** When the service last gave a good answer, new or not; null: never. */
  readonly heardAt: Instant | null;
  /** Why the last try failed; null: it did not. */
  readonly fault: string | null;
  /** Null: it never gave one. */
  readonly forecast: Forecast | null;
}

/** Everything that a brief is made of. */
export interface BriefInput {
  readonly file: SeasonFile;
  readonly visit: BriefVisit;
  readonly forecasts: readonly BriefForecast[];
  /** The records' odds of the date; null: there is no record for the site. */
  readonly records: WindowRow | null;
  readonly weights: { readonly single: LeadWeights; readonly ensemble: LeadWeights };
  readonly now: Instant;
}
