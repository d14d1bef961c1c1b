export {
  type ContainerNumberCheck,
  type ContainerNumberFault,
  checkContainerNumber,
  containerCheckDigit,
} from './container-number.ts';
export { containerCostCents, lastFreeDay } from './free-time.ts';
export {
  type ChainReason,
  chainEnd,
  chanceBy,
  type DayDistribution,
  dayAtConfidence,
  distributionMoments,
  goodsDayAtConfidence,
  latestOf,
  type Milestone,
} from './milestone-chain.ts';
export {
  betaPertCdf,
  betaPertQuantile,
  betaPertVariance,
  classicPertVariance,
  normalCdf,
  pertMean,
  type ThreePoint,
} from './three-point.ts';
