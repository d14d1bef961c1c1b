export { checkPlan } from './check/index.ts';
export { compileSeason } from './compile/compile-season.ts';
export type { CompiledSeason } from './compile/compiled-season.ts';
export * from './plan.ts';
export {
  budgetLeft,
  DEFAULT_ISLANDS,
  finishPlan,
  firstComeFirstServed,
  type PlanBudget,
  type PlanProgress,
  type PlanSeasonOptions,
  type PreparedSeason,
  planSeason,
  prepareSeason,
  SharedProgress,
  startIslands,
} from './plan-season.ts';
export * from './problem.ts';
export { bestAnswer, EXCHANGE_POINTS, type Island, type IslandAnswer, laggards } from './solve/island.ts';
export { lowerBound } from './solve/lower-bound.ts';
