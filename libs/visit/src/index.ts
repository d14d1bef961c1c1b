export {
  type CriticalPath,
  type CriticalPathProblem,
  criticalPath,
  type StepTimes,
} from './critical-path.ts';
export { type ProjectSearchOptions, type ProjectSearchResult, searchProject } from './project-search.ts';
export { type PsplibFault, type PsplibResult, readPsplib } from './psplib-reader.ts';
export {
  brokenRules,
  criticalPathLength,
  type ProjectSchedule,
  type ResourceProject,
  type ResourceProjectParts,
  resourceProject,
} from './resource-project.ts';
export { durationWithHands, type StepOrder, type VisitStep } from './step.ts';
