export { checkDay, type DayVerdict, type DutyDay, type DutySegment, type LimitVerdict } from './check-day.ts';
export {
  AU_STANDARD_HOURS,
  EU_DRIVING,
  EU_WORKING_TIME,
  NZ_WORK_TIME,
  US_PROPERTY,
  WORK_TIME_CAUTION,
  WORK_TIME_RULE_SETS,
  type WorkTimeLimit,
  type WorkTimeRuleSet,
} from './rule-set.ts';
export { holdsTicket, type Ticket, ticketHolds } from './ticket.ts';
