import type { CheckResult, SeasonPlan } from '../plan.ts';
import type { SeasonProblem } from '../problem.ts';
import { checkCosts } from './cost-comparison.ts';
import { costLines } from './costs.ts';
import { crewSeasons } from './crew-season.ts';
import { Findings } from './findings.ts';
import { checkListing, checkProblemHash } from './rule-0-listing.ts';
import { checkReady } from './rule-3-ready.ts';
import { checkCasualHandsOnce, checkHandsInOneCrew, checkPeople } from './rule-4-people.ts';
import { checkLift, checkLiftsOnce } from './rule-7-lift.ts';
import { checkEquipment, checkEquipmentOnce } from './rule-8-equipment.ts';
import { checkKept } from './rule-9-kept.ts';
import { checkDays, checkReserve, checkReserveIsFree } from './rules-1-2-days.ts';
import { checkNights, checkTravel } from './rules-5-6-travel.ts';
import { seasonFacts } from './season-facts.ts';
import { readStatedPlan } from './stated-plan.ts';
import { visitFacts } from './visit-facts.ts';

/**
 * Holds a plan against the rules of `libs/season/README.md` and works out its costs again, sharing no code with the
 * solver. A visit is taken as its job, crew and start; the days written down must be those that follow.
 *
 * The problem must have been validated. The plan may be anything: what cannot be read is a violation of rule 0, never a
 * throw. A visit that names an unknown job or crew or starts outside the horizon takes no part in the other rules.
 */
export function checkPlan(problem: SeasonProblem, plan: SeasonPlan): CheckResult {
  const findings = new Findings();
  const facts = seasonFacts(problem, findings);
  const stated = readStatedPlan(plan, findings);
  checkProblemHash(stated, facts, findings);
  checkListing(stated, facts, findings);
  checkHandsInOneCrew(facts, findings);

  const visits = stated.visits.flatMap((visit) => visitFacts(visit, facts, findings) ?? []);
  for (const visit of visits) {
    checkDays(visit, facts, findings);
    checkReserve(visit, findings);
    checkReady(visit, facts, findings);
    checkPeople(visit, facts, findings);
    checkLift(visit, facts, findings);
    checkEquipment(visit, facts, findings);
  }
  const crews = crewSeasons(visits, facts);
  for (const season of crews) {
    checkReserveIsFree(season, facts, findings);
    checkTravel(season, facts, findings);
    checkNights(season, findings);
  }
  checkCasualHandsOnce(visits, facts, findings);
  checkLiftsOnce(visits, facts, findings);
  checkEquipmentOnce(visits, facts, findings);
  checkKept(stated, facts, findings);

  const notPlanned = stated.notPlanned.flatMap((job) => facts.jobs.get(job) ?? []);
  const own = costLines(visits, notPlanned, crews, facts, findings);
  const totalCents = own.reduce((sum, line) => sum + line.cents, 0);
  checkCosts(stated, own, totalCents, findings);
  return {
    valid: findings.violations.length === 0,
    violations: findings.violations,
    costLines: own,
    totalCents,
  };
}
