import type { ShownPlan, SignInLink } from './prepare-data.ts';

const CAUTION =
  "Dates, wind limits, lifts and working hours here are planning aids. The manufacturer's load chart, the site's own " +
  'assessment and local law come first, and a licensed or competent person decides.';

/** The plan of the earliest season in full, one line for each other. */
export function planLines([first, ...others]: readonly ShownPlan[]): string[] {
  if (first === undefined)
    return ['', 'No plan yet. Read a season in: npm run dryspell -- import <file>, or on the screens.'];
  const stateOf = ({ isPublished }: ShownPlan): string => (isPublished ? 'published plan' : 'draft plan');
  return [
    '',
    `${first.seasonName}: ${stateOf(first)}`,
    '',
    ...first.lines,
    '',
    ...others.map(
      (shown) => `${shown.seasonName}: ${stateOf(shown)}, ${shown.visits} visits, ${shown.total}`,
    ),
    CAUTION,
  ];
}

/** Where to go from here. */
export function addressLines(publicUrl: string, signIn: SignInLink): string[] {
  return [
    `Screens    ${publicUrl}/app/`,
    `API        ${publicUrl}/api/v1    described at ${publicUrl}/api/docs`,
    `Sign in    ${signIn.url}`,
    `           as ${signIn.email}; works once, until ${signIn.expiresAt}. A new one comes with each start.`,
    '',
    'Ready. Stop with Ctrl-C.',
  ];
}
