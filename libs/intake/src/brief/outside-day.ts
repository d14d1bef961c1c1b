import type { SeasonFile } from '../../../contracts/src/index.ts';
import type { SiteDayWork, VisitWork } from '../../../weather/src/index.ts';
import { MOST_HOURS_A_DAY, templatesOfJob } from '../build/visit-pattern.ts';
import { visitWork } from '../build/visit-work.ts';
import { byKey } from '../tables.ts';
import type { IntakeWarning } from '../warning.ts';

/** The first outside day of a visit as the weather sees it. */
export interface OutsideDay {
  /** Null: the visit has no outside day. */
  readonly work: SiteDayWork | null;
  readonly warnings: readonly IntakeWarning[];
}

/** Hours after the planned ones in which a crew still works on when it had to wait. Common practice, not a published figure. */
export const SHIFT_SLACK_HOURS = 2;
/** Start of a site day where the season names none. */
const USUAL_START = '08:00';

/**
 * Between when outside work of so many planned hours is looked for: from the season's start of the day until the planned hours and two more
 * are over, at the latest until a minute before midnight.
 */
export function shiftOfDay(
  season: Pick<SeasonFile['season'], 'workdayStart'>,
  plannedHours: number,
): { readonly from: string; readonly to: string } {
  const from = season.workdayStart ?? USUAL_START;
  const [hours, minutes] = from.split(':').map(Number) as [number, number];
  const end = hours * 60 + minutes + Math.round((plannedHours + SHIFT_SLACK_HOURS) * 60);
  const to = Math.min(end, 24 * 60 - 1);
  return { from, to: `${String(Math.floor(to / 60)).padStart(2, '0')}:${String(to % 60).padStart(2, '0')}` };
}

/**
 * The outside work of a job's first outside day. Several kits share it one after the other as far as they fit into a day, as the season plan
 * packs them; a made-safe state must then be safe for each of them. Throws `invalid-input` for a job that the file does not have.
 */
export function firstOutsideDay(file: SeasonFile, jobKey: string): OutsideDay {
  const warnings: IntakeWarning[] = [];
  const days: { readonly work: SiteDayWork; readonly hours: number }[] = [];
  for (const { template, kit } of unitsOf(file, jobKey)) {
    const answer: { work: VisitWork; warnings: readonly IntakeWarning[] } = visitWork(file, template, kit);
    const at = answer.work.findIndex((day) => day !== null);
    const work = at < 0 ? null : answer.work[at];
    if (!work) continue;
    warnings.push(...answer.warnings);
    const rows = file.templateDays
      .filter((day) => day.template === template)
      .sort((a, b) => a.dayNumber - b.dayNumber);
    days.push({ work, hours: rows[at]?.hours ?? 0 });
  }
  return { work: together(days), warnings: withoutRepeats(warnings) };
}

function unitsOf(file: SeasonFile, jobKey: string): { template: string; kit: string | null }[] {
  const job = byKey(file.jobs).get(jobKey);
  if (!job) return [];
  const kits = file.jobKits.filter((row) => row.job === jobKey);
  // A template of the job's own stands for all its kits: its part-built state is taken as that of the only kit.
  if (job.template)
    return [{ template: job.template, kit: kits.length === 1 ? (kits[0]?.kit ?? null) : null }];
  const { kitsWithout } = templatesOfJob(file, job);
  return kits
    .filter(({ kit }) => !kitsWithout.includes(kit))
    .flatMap(({ kit, count }) => {
      const found = file.kitTemplates.find((row) => row.kit === kit && row.visitKind === job.visitKind);
      return found ? new Array(count).fill({ template: found.template, kit }) : [];
    });
}

function together(days: readonly { work: SiteDayWork; hours: number }[]): SiteDayWork | null {
  const [first] = days;
  if (!first) return null;
  let hours = 0;
  const fitting = days.filter((day) => {
    if (hours > 0 && hours + day.hours > MOST_HOURS_A_DAY) return false;
    hours += day.hours;
    return true;
  });
  if (fitting.length === 1) return first.work;
  const safe = fitting.map(({ work }) => work.makeSafeGustMps);
  return {
    steps: fitting.flatMap(({ work }, kit) =>
      work.steps.map((step) => ({ ...step, key: `${step.key}, kit ${kit + 1}` })),
    ),
    makeSafeGustMps: safe.includes(null) ? null : Math.min(...(safe as number[])),
  };
}

function withoutRepeats(warnings: readonly IntakeWarning[]): IntakeWarning[] {
  return [...new Map(warnings.map((each) => [each.message, each])).values()];
}
