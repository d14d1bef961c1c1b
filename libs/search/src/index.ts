export { type Acceptance, type AnnealingOptions, neverWorse, simulatedAnnealing } from './acceptance.ts';
export {
  NeighbourhoodSearch,
  type NeighbourhoodSearchOptions,
  type Operator,
  type SearchObserver,
  type SearchProgress,
  type Workspace,
} from './neighbourhood-search.ts';
export {
  DEFAULT_WEIGHT_OPTIONS,
  OperatorWeights,
  type StepResult,
  type WeightOptions,
} from './operator-weights.ts';
export {
  afterDuration,
  afterIterations,
  firstOf,
  type MillisecondClock,
  type StopRule,
  whenStopped,
} from './stop-rule.ts';
