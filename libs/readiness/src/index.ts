export {
  dueDay,
  itemMissing,
  type MissingReason,
  overdueItems,
  predictedReadyDay,
  type ReadinessGate,
  type ReadinessItem,
  type ReadinessState,
  readinessGate,
} from './readiness-gate.ts';
export { judgeValue } from './tolerance.ts';
