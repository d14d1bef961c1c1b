import type { SeasonFile } from '../../../../../libs/contracts/src/index.ts';
import type { Schema } from '../../api/client.ts';
import { spanWords } from '../../format/dates.ts';
import { bindingWords, costKindWords } from '../../words/plan-words.ts';
import type { SeasonNames } from '../../words/season-names.ts';
import type { SheetJob, SheetModel, SheetVisit } from './sheet-model.ts';

type Plan = Schema<'Plan'>;
type PlannedVisit = Plan['visits'][number];

/** The season sheet of a season file and a plan of it; without a plan, the jobs with what is known before planning. */
export function buildSheet(file: SeasonFile, names: SeasonNames, plan: Plan | null): SheetModel {
  const currency = plan?.currency ?? file.season.currency;
  const visits = new Map(plan?.visits.map((visit) => [visit.job, visit]));
  const left = new Map(plan?.notPlanned.map((entry) => [entry.job, entry.bindings]));
  const jobOf = (job: SeasonFile['jobs'][number]): SheetJob => {
    const visit = visits.get(job.key);
    return {
      key: job.key,
      title: job.title,
      visitKind: job.visitKind,
      siteReadyFrom: job.siteReadyFrom,
      goodsFrom: job.goodsFrom ?? null,
      promisedBy: job.promisedBy ?? null,
      visit: visit && plan ? visitOf(file, names, plan, visit, currency) : null,
      whyNot: (left.get(job.key) ?? []).map((binding) => bindingWords(binding, names, currency)),
      openMusts: file.readinessItems.filter(
        (item) =>
          item.job === job.key && item.mustBeTrue && item.state !== 'accepted' && item.state !== 'waived',
      ).length,
    };
  };
  return {
    firstDay: file.season.firstDay,
    lastDay: file.season.lastDay,
    currency,
    asOfDay: file.season.asOfDay ?? null,
    sites: file.sites
      .map((site) => ({
        key: site.key,
        name: site.name,
        zone: site.zone,
        closed: file.siteClosedDays
          .filter((closed) => closed.site === site.key)
          .map((closed) => ({ from: closed.fromDay, to: closed.toDay, reason: closed.reason ?? null })),
        jobs: file.jobs.filter((job) => job.site === site.key).map(jobOf),
      }))
      .sort((a, b) => compare(firstStart(a.jobs), firstStart(b.jobs)) || compare(a.name, b.name)),
  };
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Sites in the order of their first visits, so that the sheet reads along a falling line; then those without one. */
function firstStart(jobs: readonly SheetJob[]): string {
  const starts = jobs.map((job) => job.visit?.days[0]?.date ?? `without ${job.siteReadyFrom}`).sort();
  return starts[0] ?? 'without any job';
}

function visitOf(
  file: SeasonFile,
  names: SeasonNames,
  plan: Plan,
  visit: PlannedVisit,
  currency: string,
): SheetVisit {
  const pattern = patternOf(file, visit);
  return {
    crewKey: visit.crew,
    crewName: names.of('crew', visit.crew),
    days: visit.days.map((date, index) => ({
      date,
      outside: pattern[index]?.outside ?? null,
      hours: pattern[index]?.hours ?? null,
    })),
    reserve: visit.reserve,
    deliveryDay: visit.deliveryDay,
    lift:
      visit.liftUnit === null
        ? null
        : {
            name: names.of('lift', visit.liftUnit),
            days: visit.days.filter((_, index) => pattern[index]?.lift),
          },
    people: peopleOn(file, visit),
    equipment: visit.equipment.map((unit) => names.of('unit', unit)),
    fromBase: visit.fromBase,
    costLines: plan.costLines
      .filter((line) => line.job === visit.job)
      .map((line) => ({ words: costKindWords(line.kind), cents: line.cents })),
    why: visit.bindings.map((binding) => bindingWords(binding, names, currency)),
  };
}

interface PatternDay {
  readonly outside: boolean;
  readonly hours: number | null;
  readonly lift: boolean;
}

/**
 * The work of each site day. One template is taken as it is. Of several templates in one visit, outside work comes first;
 * hours are then not told apart by day, and a lift counts for all outside days.
 */
function patternOf(file: SeasonFile, visit: PlannedVisit): PatternDay[] {
  const job = file.jobs.find((row) => row.key === visit.job);
  if (!job) return [];
  const templates = job.template
    ? [job.template]
    : file.jobKits
        .filter((row) => row.job === job.key)
        .flatMap(({ kit, count }) => {
          const found = file.kitTemplates.find((row) => row.kit === kit && row.visitKind === job.visitKind);
          return found ? new Array<string>(count).fill(found.template) : [];
        });
  const daysOf = (template: string) =>
    file.templateDays.filter((row) => row.template === template).sort((a, b) => a.dayNumber - b.dayNumber);
  const [only] = templates;
  if (templates.length === 1 && only !== undefined) {
    return daysOf(only).map((day) => ({
      outside: day.outside,
      hours: day.hours,
      lift: day.liftType != null,
    }));
  }
  const all = templates.flatMap(daysOf);
  const insideDays = Math.max(0, ...templates.map((one) => daysOf(one).filter((day) => !day.outside).length));
  const lift = all.some((day) => day.liftType != null);
  return visit.days.map((_, index) => {
    const outside = index < visit.days.length - insideDays;
    return { outside, hours: null, lift: lift && outside };
  });
}

function peopleOn(file: SeasonFile, visit: PlannedVisit): { name: string; note: string }[] {
  const first = visit.days[0] as string;
  const last = visit.reserve.at(-1) ?? (visit.days.at(-1) as string);
  const nameOf = (key: string) => file.people.find((person) => person.key === key)?.name ?? key;
  const awayWords = (key: string) => {
    const away = file.leave.filter((row) => row.person === key && row.fromDay <= last && row.toDay >= first);
    return away.map((row) => `away ${spanWords(row.fromDay, row.toDay)}`);
  };
  const members = file.crewMembers.filter(
    (row) => row.crew === visit.crew && row.fromDay <= last && (row.toDay == null || row.toDay >= first),
  );
  return [
    ...members.map((row) => ({
      name: nameOf(row.person),
      note: [row.role, ...awayWords(row.person)].join(', '),
    })),
    ...visit.casualHands.map((key) => ({ name: nameOf(key), note: 'casual hand' })),
  ];
}
