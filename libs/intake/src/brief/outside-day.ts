import type { SeasonFile } from '../../../contracts/src/index.ts';
import { DryspellError } from '../../../kernel/src/index.ts';
import type { SiteDayWork } from '../../../weather/src/index.ts';
import { shiftOfDay } from '../build/site-shift.ts';
import { byKey } from '../tables.ts';
import type { IntakeWarning } from '../warning.ts';
import { jobWork } from '../windows/job-work.ts';
import { needOf, type WindowContent } from '../windows/window-need.ts';

/** The first outside day of a visit as the weather sees it. */
export interface OutsideDay {
  /** Null: nothing is done outside, or a kit has no template. */
  readonly work: SiteDayWork | null;
  /** Between when the work is looked for, on the clocks of the site: as the season's odds look for it. */
  readonly shift: { readonly from: string; readonly to: string; readonly zone: string };
  readonly warnings: readonly IntakeWarning[];
  /** What the odds of the visit in past years depend on beside the record; null without outside work. */
  readonly content: WindowContent | null;
}

/**
 * The outside work of a job's first outside day, packed as the season plan packs it. `plannedHours` make the shift where nothing is known of the
 * work. Throws `invalid-input` for a job or site that the file does not have.
 */
export function firstOutsideDay(file: SeasonFile, jobKey: string, plannedHours: number): OutsideDay {
  const job = byKey(file.jobs).get(jobKey);
  const site = byKey(file.sites).get(job?.site ?? '');
  if (!job || !site) throw new DryspellError('invalid-input', { field: 'job', value: jobKey });
  const found = jobWork(file, job);
  if (found === null) {
    const shift = { ...shiftOfDay(file.season, plannedHours), zone: site.zone };
    return { work: null, shift, warnings: [], content: null };
  }
  const { content, warnings } = needOf(file, site, '', found);
  const distinct = [...new Map(warnings.map((each) => [each.message, each])).values()];
  return {
    work: found.work.find((day) => day !== null) ?? null,
    shift: content.shift,
    warnings: distinct,
    content,
  };
}
