import type { Fault, SeasonFile, SeasonTableName } from '../../contracts/src/index.ts';
import { checkCrewMembers } from './checks/crews.ts';
import { checkJobs } from './checks/jobs.ts';
import { checkMilestones } from './checks/milestones.ts';
import { checkTemplates } from './checks/templates.ts';
import { checkWeatherMonths } from './checks/weather.ts';
import { checkZones } from './checks/zones.ts';

interface SeasonCheck {
  readonly check: (file: SeasonFile) => Fault[];
  /** Tables whose cells and references must be sound for the check to judge; it looks at single cells of any other. */
  readonly reads: readonly SeasonTableName[];
}

/** All checks between rows, in the order in which their faults are told. */
export const CHECKS: readonly SeasonCheck[] = [
  { check: checkZones, reads: [] },
  { check: checkCrewMembers, reads: ['crewMembers', 'people'] },
  { check: checkTemplates, reads: ['buildTemplates', 'templateDays', 'steps', 'stepPrecedence'] },
  {
    check: checkJobs,
    reads: [
      'jobs',
      'jobKits',
      'kitTemplates',
      'buildTemplates',
      'templateDays',
      'consignments',
      'consignmentJobs',
    ],
  },
  { check: checkMilestones, reads: ['milestones'] },
  { check: checkWeatherMonths, reads: ['weatherMonths'] },
];

/**
 * Faults between rows of a season file whose cells and references are already valid (`validateSeasonFile` of the contracts): what
 * cannot be planned with. All are found at once. What is only odd is in `oddRows`. `readSeasonFile` is both doors in one.
 */
export function checkSeasonFile(file: SeasonFile): Fault[] {
  return CHECKS.flatMap(({ check }) => check(file));
}
