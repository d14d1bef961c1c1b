import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import type { VisitWork } from '../../../weather/src/index.ts';
import { shiftOfDay } from '../build/site-shift.ts';
import { byKey } from '../tables.ts';
import type { IntakeWarning } from '../warning.ts';
import { type JobWork, jobWork } from './job-work.ts';

/** What odds by date are called where they are kept. */
export const WINDOW_KIND = 'odds-by-date';

/** Everything that the odds of a visit depend on, beside the hours of the record. The same content gives the same odds. */
export interface WindowContent {
  /** Raised when the same content would give other odds. */
  readonly rules: 1;
  readonly lat: number;
  readonly lon: number;
  readonly shift: { readonly from: string; readonly to: string; readonly zone: string };
  /** Year whose clock changes and daylight count. */
  readonly year: number;
  readonly work: VisitWork;
  readonly inARow: boolean;
  /** Share of visits that keep within the reserve. */
  readonly reserveConfidence: number;
  readonly gustFactor: number;
}

/** Odds that are wanted: for whom, from which record, of what. */
export interface WindowNeed {
  /** Keys of the jobs that they are for; none for a calendar. */
  readonly jobs: readonly string[];
  readonly site: string;
  /** Key of the record. */
  readonly record: string;
  readonly content: WindowContent;
  /** What had to be assumed of the work. */
  readonly warnings: readonly IntakeWarning[];
}

/** Ratio of gust to mean wind where a record has no gusts: see `HourRules.gustFactor` of libs/weather. */
const GUST_FACTOR = 1.4;

export interface NeedOptions {
  /** Key of the record that stands for a site; a site that is not there has none. */
  readonly recordOfSite: ReadonlyMap<string, string>;
  /** As `IntakeOptions.outsideDaysInARow`. */
  readonly inARow?: boolean;
  readonly reserveConfidence?: number;
}

/** The odds that the jobs of a season want, each different one once. Jobs without outside work or without a record want none. */
export function windowNeeds(file: SeasonFile, options: NeedOptions): WindowNeed[] {
  const sites = byKey(file.sites);
  const works = new Map<string, JobWork | null>();
  const found = new Map<string, { need: WindowNeed; jobs: string[] }>();
  for (const job of file.jobs) {
    const record = options.recordOfSite.get(job.site);
    const site = sites.get(job.site);
    if (record === undefined || !site) continue;
    const kits = file.jobKits.filter((row) => row.job === job.key).map(({ kit, count }) => [kit, count]);
    const id = JSON.stringify([job.template ?? null, job.visitKind, kits]);
    const work = works.has(id) ? (works.get(id) ?? null) : jobWork(file, job);
    works.set(id, work);
    if (work === null) continue;
    const same = found.get(`${job.site} ${id}`);
    if (same) same.jobs.push(job.key);
    else {
      const jobs = [job.key];
      found.set(`${job.site} ${id}`, { jobs, need: { jobs, ...needOf(file, site, record, work, options) } });
    }
  }
  return [...found.values()].map(({ need }) => need);
}

/** What is wanted for some work at a site. */
export function needOf(
  file: SeasonFile,
  site: Pick<SeasonRow<'sites'>, 'key' | 'lat' | 'lon' | 'zone'>,
  record: string,
  { work, longestHours, warnings }: JobWork,
  options: Pick<NeedOptions, 'inARow' | 'reserveConfidence'> = {},
): Omit<WindowNeed, 'jobs'> {
  const { season } = file;
  return {
    site: site.key,
    record,
    warnings,
    content: {
      rules: 1,
      lat: site.lat,
      lon: site.lon,
      shift: { ...shiftOfDay(season, longestHours), zone: site.zone },
      year: Number(season.firstDay.slice(0, 4)),
      work,
      inARow: options.inARow ?? false,
      reserveConfidence: options.reserveConfidence ?? season.reserveConfidence,
      gustFactor: GUST_FACTOR,
    },
  };
}
