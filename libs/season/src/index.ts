export { checkPlan } from './check/index.ts';
export { lowerBound } from './solve/lower-bound.ts';
export { compileSeason } from './compile/compile-season.ts';
export type { CompiledSeason } from './compile/compiled-season.ts';
export * from './plan.ts';
export {
  DEFAULT_ISLANDS,
  finishPlan,
  firstComeFirstServed,
  type PlanProgress,
  type PlanSeasonOptions,
  type PreparedSeason,
  planSeason,
  prepareSeason,
} from './plan-season.ts';
export * from './problem.ts';
export { bestAnswer, EXCHANGE_POINTS, Island, type IslandAnswer, laggards } from './solve/island.ts';
