export { type BlockDay, type BlockRules, blockDays } from './block-days.ts';
export { quantileDays } from './date-tally.ts';
export { type DayGrid, dateOfYear, joinDays, layOutDays, monthAndDay, someDays } from './day-grid.ts';
export { type LightSpan, type LightTable, lightSpans, lightTable } from './daylight.ts';
export { dewPointC } from './dew-point.ts';
export { type BlendedOdds, blendOdds, type MemberCounts, memberShare } from './forecast/blend.ts';
export { type CostLossChoice, costLossChoice, relativeValue, warningRates } from './forecast/cost-loss.ts';
export {
  type Evidence,
  type EvidenceBreach,
  type EvidenceHour,
  type EvidenceInput,
  type EvidenceQuantity,
  type EvidenceTotal,
  evidence,
  type MemberSpread,
} from './forecast/evidence.ts';
export { evidenceCsv } from './forecast/evidence-csv.ts';
export {
  type BrokenLimit,
  type ForecastState,
  type GoOrHoldAdvice,
  type GoOrHoldInput,
  type GoOrHoldReason,
  type GoOrHoldRule,
  goOrHold,
} from './forecast/go-or-hold.ts';
export {
  DEFAULT_LEAD_WEIGHTS,
  defaultLeadWeights,
  type ForecastKind,
  fitLeadWeights,
  type LeadCase,
  type LeadWeight,
  type LeadWeights,
} from './forecast/lead-weights.ts';
export { type ReliabilityWords, reliabilityPicture } from './forecast/reliability-picture.ts';
export {
  type BrierParts,
  brierParts,
  brierScore,
  brierSkill,
  type ReliabilityBin,
  reliabilityTable,
  type StatedChance,
} from './forecast/verification.ts';
export {
  type AssumedFigure,
  type Calibration,
  calibrate,
  type FigureNotMet,
} from './generator/calibrate.ts';
export { type GenerateRequest, generateYears } from './generator/generate-years.ts';
export {
  type CalibrateOptions,
  GENERATOR_ASSUMPTIONS,
  type GeneratorAssumptions,
  type GeneratorMonth,
  type GeneratorParameters,
} from './generator/generator-parameters.ts';
export { growingRecord, type HourValues, type RecordHead } from './growing-record.ts';
export { DEFAULT_GUST_FACTOR, type HourRules } from './hour-marks.ts';
export type { BadLine, Forecast, HourlyRecord } from './hourly-record.ts';
export { type JudgedDay, judgeDay, type SiteDay, shiftOn } from './judge-day.ts';
export {
  type LostDays,
  type LostDaysOptions,
  type LostDaysTable,
  lostDaysOfStay,
  lostDaysTable,
} from './lost-days.ts';
export {
  type MonthFromRecord,
  monthlyTableFromHourly,
  USUAL_LIMITS,
  type WorkableLimits,
} from './monthly-from-hourly.ts';
export {
  type BadDayChain,
  badDayChain,
  type MonthlyTable,
  type MonthWeather,
  NO_ASSUMPTIONS,
  UNKNOWN_MONTH,
  type WeatherAssumptions,
} from './monthly-table.ts';
export { type OddsCalendar, oddsCalendarPicture } from './odds-calendar-picture.ts';
export { type RainHours, rainHours } from './rain-hours.ts';
export type { CsvColumn, CsvField } from './readers/csv-columns.ts';
export { type CsvOptions, csvReader } from './readers/csv-reader.ts';
export type { DateOrder, TableClock } from './readers/csv-time.ts';
export { epwReader, readEpw } from './readers/epw-reader.ts';
export type { ForecastFault, ReadForecast } from './readers/forecast-reading.ts';
export { hourlyCsv } from './readers/hourly-csv.ts';
export { readMetNorwayForecast } from './readers/met-norway-forecast.ts';
export { type Metar, type MetarTrend, parseMetar } from './readers/metar.ts';
export { type MetarOptions, metarReader } from './readers/metar-reader.ts';
export type { HourSpan } from './readers/missing-hours.ts';
export { readOpenMeteoEnsemble } from './readers/open-meteo-ensemble.ts';
export {
  type LineReader,
  lineFeeder,
  type Reading,
  type ReadingPolicy,
  type ReadingWarning,
  readText,
} from './readers/reading.ts';
export type { ReportState } from './readers/report-state.ts';
export { parseTaf, type Taf, type TafChange } from './readers/taf.ts';
export { tafForecast } from './readers/taf-forecast.ts';
export {
  daysInMonth,
  hourIndexOf,
  hourOfDay,
  hourText,
  type LocalHour,
  localDateOfHour,
} from './record-clock.ts';
export { type HoursFrom, recordOf } from './record-of.ts';
export { type ShiftTimes, type SiteClock, siteClock } from './site-clock.ts';
export { DAY } from './site-day.ts';
export type { OutsideStep, SiteDayWork, StepLimits, VisitWork } from './site-day-work.ts';
export { SiteWindows, type WindowBasis, type WindowRules } from './site-windows.ts';
export {
  badAgainChance,
  chainFromCorrelation,
  chainFromShare,
  type DayBefore,
  firstDayBadChance,
  goodRunChance,
  lagOneCorrelation,
  meanDaysUntilGoodRun,
  meanSpellDays,
  stationaryBadShare,
  type TwoStateChain,
} from './two-state-chain.ts';
export { wilsonInterval } from './wilson.ts';
export { OPEN_GROUND, type WindProfile, windFactorAt } from './wind-profile.ts';
export type { WindowRow } from './window-row.ts';
