import type { Fault, SeasonFile } from '../../contracts/src/index.ts';
import { checkCrewMembers } from './checks/crews.ts';
import { checkJobs } from './checks/jobs.ts';
import { checkMilestones } from './checks/milestones.ts';
import { checkTemplates } from './checks/templates.ts';
import { checkWeatherMonths } from './checks/weather.ts';
import { checkZones } from './checks/zones.ts';

/**
 * Faults between rows of a season file whose cells and references are already valid (`validateSeasonFile` of the contracts): what
 * cannot be planned with. All are found at once. What is only odd is in `oddRows`.
 */
export function checkSeasonFile(file: SeasonFile): Fault[] {
  return [
    ...checkZones(file),
    ...checkCrewMembers(file),
    ...checkTemplates(file),
    ...checkJobs(file),
    ...checkMilestones(file),
    ...checkWeatherMonths(file),
  ];
}
