import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import { type Day, DryspellError } from '../../../kernel/src/index.ts';
import { predictedReadyDay, type ReadinessItem } from '../../../readiness/src/index.ts';
import type { GoodsNeed, Job } from '../../../season/src/problem.ts';
import { byKey } from '../tables.ts';
import { type IntakeWarning, warning } from '../warning.ts';
import { dayOfCell, type Horizon, inAnySpan } from './day-mask.ts';
import { goodsDayOfJob } from './goods-day.ts';
import { templatesOfJob, visitPattern } from './visit-pattern.ts';
import type { WeatherTables } from './weather-tables.ts';

/** What the jobs are built with. */
export interface JobOptions {
  readonly horizon: Horizon;
  readonly asOfDay: Day;
  readonly goodsConfidence: number;
  readonly mostHoursADay: number;
}

/** The jobs of the season, with what had to be assumed for each. */
export function buildJobs(
  file: SeasonFile,
  weather: WeatherTables,
  options: JobOptions,
): { jobs: Job[]; warnings: IntakeWarning[] } {
  const warnings: IntakeWarning[] = [];
  const sites = byKey(file.sites);
  const jobs = file.jobs.map((row): Job => {
    const site = sites.get(row.site) as SeasonRow<'sites'>;
    const { templates, kitsWithout } = templatesOfJob(file, row);
    if (kitsWithout.length > 0 || templates.length === 0) {
      throw new DryspellError('season-file-invalid', {
        job: row.key,
        kitsWithout,
        expected: 'a build template for the job or for each of its kits',
      });
    }
    const pattern = visitPattern(file, templates, options.mostHoursADay);
    if (templates.length > 1) {
      const message = `The visit ${row.title} builds ${templates.length} kits one after the other in ${pattern.siteDays.length} site days. Give the job its own template if that is not so.`;
      warnings.push(
        warning('kits-merged', 'jobs', row.key, message, {
          kits: templates.length,
          siteDays: pattern.siteDays.length,
        }),
      );
    }
    const isClosed = inAnySpan(file.siteClosedDays.filter((closed) => closed.site === row.site));
    return {
      id: row.key,
      title: row.title,
      visitKind: row.visitKind,
      site: row.site,
      pattern: pattern.siteDays,
      maxGapDays: pattern.maxGapDays,
      siteClosedDays: daysWhere(options.horizon, isClosed),
      siteReadyFrom: readyFrom(file, row, options.asOfDay, warnings),
      goods: goodsOf(file, row, site, options, warnings),
      equipmentKinds: pattern.equipmentKinds,
      promisedBy: row.promisedBy ? dayOfCell(row.promisedBy) : null,
      lateCentsPerDay: row.lateCentsPerDay,
      notPlannedCents: row.notPlannedCents,
      pin:
        row.pinnedStart || row.pinnedCrew
          ? { start: row.pinnedStart ? dayOfCell(row.pinnedStart) : null, crew: row.pinnedCrew ?? null }
          : null,
      published:
        row.publishedStart && row.publishedCrew
          ? { start: dayOfCell(row.publishedStart), crew: row.publishedCrew }
          : null,
      weatherTable: weather.tableFor(row.key, site, pattern.siteDays),
    };
  });
  return { jobs, warnings };
}

/** The later of the day in the file and the day on which the last readiness item is expected, where that is known. */
function readyFrom(file: SeasonFile, row: SeasonRow<'jobs'>, asOfDay: Day, warnings: IntakeWarning[]): Day {
  const given = dayOfCell(row.siteReadyFrom);
  const items = file.readinessItems.filter((item) => item.job === row.key).map(readinessItemOf);
  const predicted = predictedReadyDay(items, asOfDay);
  if (predicted.known) return predicted.value === null ? given : (Math.max(given, predicted.value) as Day);
  const message = `For ${row.title} nobody has said when ${predicted.missing.join(', ')} will be ready; planned with the day in the file, ${row.siteReadyFrom}. Ask, and enter the expected day.`;
  warnings.push(
    warning('ready-day-unknown', 'jobs', row.key, message, { items: predicted.missing.join(',') }),
  );
  return given;
}

/** A readiness row as the readiness library reads it. */
export function readinessItemOf(row: SeasonRow<'readinessItems'>): ReadinessItem {
  return {
    key: row.key,
    dueDaysBefore: row.dueDaysBefore,
    mustBeTrue: row.mustBeTrue,
    state: row.state,
    evidence: row.evidence,
    value: row.value ?? null,
    toleranceLow: row.toleranceLow ?? null,
    toleranceHigh: row.toleranceHigh ?? null,
    expectedDay: row.expectedOn ? dayOfCell(row.expectedOn) : null,
  };
}

/**
 * What the job needs from a warehouse. An unknown goods day is put on the day after the season: the job then stays unplanned and says that
 * it waits for goods, rather than being planned on a guess.
 */
function goodsOf(
  file: SeasonFile,
  row: SeasonRow<'jobs'>,
  site: SeasonRow<'sites'>,
  options: JobOptions,
  warnings: IntakeWarning[],
): GoodsNeed | null {
  const warehouse = file.warehouses.find((each) => each.key === row.warehouse);
  if (!warehouse) return null;
  const answer = goodsDayOfJob(file, row, options.goodsConfidence, options.asOfDay);
  if (!answer.known) {
    const message = `It cannot be said when the goods of ${row.title} can leave the warehouse (${answer.reason}: ${answer.missing.join(', ')}), so the job is not planned. Enter its milestones or a goods day.`;
    warnings.push(
      warning('goods-day-unknown', 'jobs', row.key, message, {
        reason: answer.reason,
        missing: answer.missing.join(','),
      }),
    );
  } else if (answer.value.shortChains.length > 0) {
    const message = `The milestones of ${answer.value.shortChains.join(', ')} stop before the goods are ready to go; the time after them counts as none. Add what is missing.`;
    warnings.push(
      warning('goods-chain-short', 'jobs', row.key, message, {
        consignments: answer.value.shortChains.join(','),
      }),
    );
  }
  const kits = byKey(file.kits);
  const bays = file.jobKits
    .filter((each) => each.job === row.key)
    .reduce((sum, each) => sum + (kits.get(each.kit)?.bays ?? 0) * each.count, 0);
  return {
    warehouse: warehouse.key,
    goodsFrom: answer.known ? answer.value.day : ((options.horizon.lastDay + 1) as Day),
    deliveryLeadDays: warehouse.deliveryLeadDays,
    siteStorageDays: site.siteStorageDays,
    bays,
  };
}

function daysWhere(horizon: Horizon, holds: (day: number) => boolean): Day[] {
  const days: Day[] = [];
  for (let day: number = horizon.firstDay; day <= horizon.lastDay; day += 1)
    if (holds(day)) days.push(day as Day);
  return days;
}
