export type { Brand } from './brand.ts';
export { canonicalJson, fnv1a64, hashOf } from './canonical-json.ts';
export { type Clock, type FixedClock, fixedClock } from './clock.ts';
export { DryspellError, type ErrorData } from './dryspell-error.ts';
export { ERROR_CODES, type ErrorCode, type ErrorKind, isErrorCode } from './error-codes.ts';
export {
  addMinutes,
  type Instant,
  instantFromMs,
  instantToMs,
  minutesBetween,
  parseInstant,
} from './instant.ts';
export {
  addDays,
  type Day,
  dayFromParts,
  daysBetween,
  isLocalDate,
  type LocalDate,
  monthOf,
  parseLocalDate,
  toDay,
  toLocalDate,
  weekdayOf,
} from './local-date.ts';
export { cents, formatCents, minorDigits } from './money.ts';
export {
  type Answer,
  type CannotSay,
  cannotSay,
  type Known,
  known,
  type Ok,
  ok,
  type Refused,
  type Result,
  refused,
  type Verdict,
} from './outcome.ts';
export { type Rng, type RngState, rngFromSeed, rngFromState } from './rng.ts';
export {
  type Cents,
  type Kilograms,
  type Kilometres,
  kilograms,
  kilometres,
  type Metres,
  type MetresPerSecond,
  type Minutes,
  metres,
  metresPerSecond,
  minutes,
} from './units.ts';
export {
  type ClockChangeRule,
  hoursInLocalDay,
  instantToLocal,
  type LocalMoment,
  type LocalReading,
  type LocalToInstant,
  localDateAt,
  localToInstant,
  startOfLocalDay,
} from './zone-calendar.ts';
export {
  isKnownZone,
  luxonZone,
  offsetMinAt,
  TZ_DATA_LAST_YEAR,
  tzDataVersion,
  zoneNames,
} from './zone-data.ts';
