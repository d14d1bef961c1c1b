export { LIFTING_CAUTIONS } from './cautions.ts';
export {
  checkLoadInWind,
  gustAtHeightMps,
  LOAD_DRAG,
  loadWindLimit,
  type WindLimit,
  type WindLoad,
  type WindVerdict,
} from './load-wind.ts';
export {
  type Coupling,
  type LiftDuration,
  type LiftUnits,
  type NioshLift,
  type NioshResult,
  type NioshTerm,
  nioshLift,
} from './niosh-lift.ts';
export { fewestHandsForLoad, type TeamLift, teamLift } from './team-lift.ts';
