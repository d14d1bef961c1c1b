import type { VisitFacts } from '../../../../libs/data/src/visit-facts.ts';

const AIDS =
  'The figures here are planning aids. The manufacturer’s instructions, the site’s own assessment and local law come first.';

/** What must be read before work on a visit that can hurt somebody. Nothing unknown counts as harmless. */
export function cautionsOf(facts: VisitFacts): string[] {
  const cautions = [AIDS];
  const { site } = facts;
  if (facts.job.visitKind === 'build' || facts.liftHolds.length > 0) {
    cautions.push(
      'Lifting and wind: the load chart and the person in charge of the lift decide, on the day, at the site.',
    );
  }
  if (facts.job.visitKind === 'build') {
    cautions.push('Electricity: isolate before wiring; a licensed person connects and tests.');
    cautions.push('Height: work at height only with what the site’s assessment asks for.');
  }
  if (site.overheadLines === 'yes')
    cautions.push('There are power lines over or near the work. Keep the distance that their owner demands.');
  if (site.overheadLines === 'unknown') {
    cautions.push(
      'Whether there are power lines over or near the work is not known. Look before anything is raised.',
    );
  }
  if (site.forkliftOnSite === 'unknown')
    cautions.push('Whether a forklift can work there safely is not known.');
  for (const hold of facts.liftHolds) {
    if (hold.state !== 'off' && hold.maxGustMps === null) {
      cautions.push(`The wind limit of ${hold.name} is not known. Ask for its load chart before the day.`);
    }
  }
  cautions.push(
    'Driving and fatigue: stop and rest in time; local limits on hours hold whatever the plan says.',
  );
  return cautions;
}
