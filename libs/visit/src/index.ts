export {
  type CriticalPath,
  type CriticalPathProblem,
  criticalPath,
  type StepTimes,
} from './critical-path.ts';
export { durationWithHands, type StepOrder, type VisitStep } from './step.ts';
