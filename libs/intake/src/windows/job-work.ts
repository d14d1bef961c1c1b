import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import type { SiteDayWork, VisitWork } from '../../../weather/src/index.ts';
import { templatesOfJob, visitPattern } from '../build/visit-pattern.ts';
import { visitWork } from '../build/visit-work.ts';
import type { IntakeWarning } from '../warning.ts';

/** The outside work of a visit as the weather sees it. */
export interface JobWork {
  /** Up to the last outside day: days after it are lost to no weather. */
  readonly work: VisitWork;
  /** Hours of the longest outside day. */
  readonly longestHours: number;
  readonly warnings: readonly IntakeWarning[];
}

/**
 * The outside work of a job, day by day as the season plan packs it: kits that share a site day are built one after the other, and a part-built state must
 * be safe for each of them. Null when nothing is done outside, or a kit has no template.
 */
export function jobWork(file: SeasonFile, job: SeasonRow<'jobs'>, mostHoursADay?: number): JobWork | null {
  const { templates, kits, kitsWithout } = templatesOfJob(file, job);
  if (templates.length === 0 || kitsWithout.length > 0) return null;
  return workOf(file, templates, kits, mostHoursADay);
}

/** The outside work of one template, with the kit that is built by it where one is named. Null when nothing is done outside. */
export function templateWork(file: SeasonFile, template: string, kit: string | null): JobWork | null {
  return workOf(file, [template], [kit]);
}

function workOf(
  file: SeasonFile,
  templates: readonly string[],
  kits: readonly (string | null)[],
  mostHoursADay?: number,
): JobWork | null {
  const pattern = visitPattern(file, templates, mostHoursADay);
  const lastOutside = pattern.siteDays.findLastIndex((day) => day.outside);
  if (lastOutside < 0) return null;
  const units = templates.map((template, unit) => {
    const { work, warnings } = visitWork(file, template, kits[unit] ?? null);
    const numbers = file.templateDays
      .filter((day) => day.template === template)
      .map((day) => day.dayNumber)
      .sort((a, b) => a - b);
    return { warnings, byNumber: new Map(numbers.map((number, at) => [number, work[at] ?? null])) };
  });
  const days = pattern.siteDays.slice(0, lastOutside + 1);
  const work = days.map((day, at) => {
    if (!day.outside) return null;
    const parts = pattern.parts[at] ?? [];
    return together(parts.map(({ unit, dayNumber }) => units[unit]?.byNumber.get(dayNumber) ?? null));
  });
  return {
    work,
    longestHours: Math.max(...days.filter((day) => day.outside).map((day) => day.hours)),
    warnings: units.flatMap(({ warnings }) => warnings),
  };
}

function together(parts: readonly (SiteDayWork | null)[]): SiteDayWork {
  const works = parts.filter((part) => part !== null);
  const [first] = works;
  if (works.length === 1 && first) return first;
  const safe = works.map(({ makeSafeGustMps }) => makeSafeGustMps);
  return {
    steps: works.flatMap(({ steps }, kit) =>
      steps.map((step) => ({ ...step, key: `${step.key}, kit ${kit + 1}` })),
    ),
    makeSafeGustMps: safe.some((gust) => gust === null) ? null : Math.min(...(safe as number[])),
  };
}
