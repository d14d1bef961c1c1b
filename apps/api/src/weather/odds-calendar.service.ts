import { Inject, Injectable } from '@nestjs/common';
import type { SeasonFile, SeasonRow } from '../../../../libs/contracts/src/index.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { getSeason } from '../../../../libs/data/src/season.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { seasonWindows } from '../../../../libs/data/src/weather/season-windows.ts';
import { findSeries, type WeatherSeries } from '../../../../libs/data/src/weather/series.repository.ts';
import {
  computeWindow,
  type JobWork,
  jobWork,
  needOf,
  templateWork,
  WINDOW_KIND,
  type WindowNeed,
  type WindowResult,
} from '../../../../libs/intake/src/index.ts';
import { type Clock, DryspellError } from '../../../../libs/kernel/src/index.ts';
import { DATABASE } from '../data/database.token.ts';
import type { Call } from '../frame/call.ts';
import { CLOCK } from '../tokens.ts';

/** What a calendar is wanted of. */
export interface CalendarQuery {
  readonly job?: string | undefined;
  readonly template?: string | undefined;
  readonly kit?: string | undefined;
}

/** The odds of a site with everything that a screen or a picture says of them. */
export interface SiteCalendar {
  readonly site: SeasonRow<'sites'>;
  /** What is built, in words. */
  readonly what: string;
  readonly series: WeatherSeries;
  readonly need: Omit<WindowNeed, 'jobs'>;
  readonly result: WindowResult;
}

interface Wanted {
  readonly what: string;
  readonly work: JobWork | null;
}

@Injectable()
export class OddsCalendarService {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  /** Throws `not-found` for a site without a record, `invalid-input` for work that the season does not have. */
  async calendar(
    params: { season: string; site: string },
    query: CalendarQuery,
    call: Call,
  ): Promise<SiteCalendar> {
    const { organisationId } = call.user;
    const season = await getSeason(this.db, organisationId, params.season);
    const file = await exportSeason(this.db, organisationId, params.season);
    const site = file.sites.find(({ key }) => key === params.site);
    if (!site) throw new DryspellError('not-found', { site: params.site });
    const { what, work } = wantedOf(file, site.key, query);
    if (work === null) {
      throw new DryspellError('invalid-input', {
        field: 'job',
        value: what,
        expected: 'work that is done outside',
      });
    }
    const windows = await seasonWindows<Omit<WindowNeed, 'jobs'>, WindowResult>(this.db, {
      organisationId,
      seasonId: season.id,
      kind: WINDOW_KIND,
      needsOf: (recordOfSite) => {
        const record = recordOfSite.get(site.key);
        return record === undefined ? [] : [needOf(file, site, record, work)];
      },
      compute: ({ content }, record) => computeWindow(content, record),
      now: this.clock.now(),
    });
    const [found] = windows;
    const [series] = found ? await findSeries(this.db, { organisationId, keys: [found.need.record] }) : [];
    if (!found || !series)
      throw new DryspellError('not-found', { record: `hourly record of the site ${site.key}` });
    return { site, what, series, need: found.need, result: found.result };
  }
}

/** The work of a job, of a template, or of a kit; else of the first job at the site. */
function wantedOf(file: SeasonFile, site: string, { job, template, kit }: CalendarQuery): Wanted {
  if (template !== undefined || kit !== undefined) return ofTemplate(file, template, kit);
  const row = file.jobs.find((each) => (job === undefined ? each.site === site : each.key === job));
  if (!row) {
    const known = file.jobs.filter((each) => each.site === site).map((each) => each.key);
    throw new DryspellError('invalid-input', {
      field: job === undefined ? 'template' : 'job',
      value: job ?? null,
      expected: `one of ${known.join(', ') || 'the templates, as the site has no job'}`,
    });
  }
  return { what: row.title, work: jobWork(file, row) };
}

function ofTemplate(file: SeasonFile, template: string | undefined, kit: string | undefined): Wanted {
  const kitRow = file.kits.find(({ key }) => key === kit);
  if (kit !== undefined && !kitRow) throw unknown('kit', kit, file.kits);
  const chosen =
    template ?? file.kitTemplates.find((row) => row.kit === kit && row.visitKind === 'build')?.template;
  const row = file.buildTemplates.find(({ key }) => key === chosen);
  if (!row) throw unknown('template', template ?? null, file.buildTemplates);
  return {
    what: kitRow ? `${kitRow.name}, ${row.name}` : row.name,
    work: templateWork(file, row.key, kit ?? null),
  };
}

function unknown(field: string, value: string | null, rows: readonly { key: string }[]): DryspellError {
  return new DryspellError('invalid-input', {
    field,
    value,
    expected: `one of ${rows.map(({ key }) => key).join(', ') || 'none; the season has none'}`,
  });
}
