export { assembleBrief } from './brief/assemble-brief.ts';
export { type BriefCore, briefCore } from './brief/brief-core.ts';
export type { BriefForecast, BriefInput, BriefVisit } from './brief/brief-input.ts';
export { chainsOf, type GoodsDay, goodsDayOfJob } from './build/goods-day.ts';
export { readinessItemOf } from './build/jobs.ts';
export { depotPlaceId } from './build/machines.ts';
export { homePlaceId } from './build/people.ts';
export { type WindowTable, type WindowTables, windowTablesOf } from './build/record-tables.ts';
export { MOST_HOURS_A_DAY, templatesOfJob, type VisitPattern, visitPattern } from './build/visit-pattern.ts';
export { ASSUMED_DAY_LIMITS, type VisitWorkAnswer, visitWork } from './build/visit-work.ts';
export { assumedColdShare, DEFAULT_WEATHER_ASSUMPTIONS, monthsOfArea } from './build/weather-tables.ts';
export { buildSeasonProblem, type Intake, type IntakeOptions } from './build-season-problem.ts';
export { checkSeasonFile } from './check-season-file.ts';
export { oddRows } from './odd-rows.ts';
export { faultsBetweenRows, readSeasonFile } from './season-faults.ts';
export type { IntakeWarning, WarningCode } from './warning.ts';
export {
  type CountingReader,
  placeWarnings,
  type RecordPlace,
  type TableFacts,
  type WeatherFileFacts,
  weatherFileReader,
  whyNoRecord,
} from './weather-file.ts';
export { computeWindow, type WindowResult } from './windows/compute-window.ts';
export { type FigureNeeds, figureNeeds, figureTables } from './windows/figure-windows.ts';
export { type JobWork, jobWork, templateWork } from './windows/job-work.ts';
export {
  type NeedOptions,
  needOf,
  WINDOW_KIND,
  type WindowContent,
  type WindowNeed,
  windowNeeds,
} from './windows/window-need.ts';
export {
  basisWords,
  clockOnSite,
  goodDayWords,
  localStartOf,
  overnightWords,
  RAIN_TOTALS_WORDS,
} from './windows/window-words.ts';
