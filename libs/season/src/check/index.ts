/** The independent checker: plain code, no import from the solver. */
export { checkPlan } from './check-plan.ts';
