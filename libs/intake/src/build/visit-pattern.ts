import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import type { SiteDay } from '../../../season/src/problem.ts';
import { groupBy } from '../tables.ts';

/** What a visit asks for, made of the templates of its kits. */
export interface VisitPattern {
  readonly siteDays: readonly SiteDay[];
  readonly maxGapDays: number;
  readonly equipmentKinds: readonly string[];
  /** Templates that were put together, one for each kit built; one alone is taken as it is. */
  readonly templates: readonly string[];
  /** For each site day the template days that it is made of: of which of `templates`, and its number there. */
  readonly parts: readonly (readonly DayPart[])[];
}

/** A day of one of the templates of a visit. */
export interface DayPart {
  /** Place in `templates`. */
  readonly unit: number;
  readonly dayNumber: number;
}

/** A site day with what it is made of. */
interface PlannedDay {
  readonly day: SiteDay;
  readonly parts: readonly DayPart[];
}

/** Most hours of work that are put into one site day when several kits share a visit. Common practice, no published source. */
export const MOST_HOURS_A_DAY = 10;

/**
 * The templates of a job: its own, which then stands for all its kits, else that of each of its kits for this kind of visit, a kit
 * that is built twice twice; `kits` names the kit of each, null where one template stands for several. A kit without one is named in
 * `kitsWithout`.
 */
export function templatesOfJob(
  file: SeasonFile,
  job: SeasonRow<'jobs'>,
): { templates: string[]; kits: (string | null)[]; kitsWithout: string[] } {
  const rows = file.jobKits.filter((row) => row.job === job.key);
  if (job.template) {
    const only = rows.length === 1 ? (rows[0]?.kit ?? null) : null;
    return { templates: [job.template], kits: [only], kitsWithout: [] };
  }
  const templates: string[] = [];
  const kits: string[] = [];
  const kitsWithout: string[] = [];
  for (const { kit, count } of rows) {
    const found = file.kitTemplates.find((row) => row.kit === kit && row.visitKind === job.visitKind);
    if (!found) {
      kitsWithout.push(kit);
      continue;
    }
    templates.push(...new Array<string>(count).fill(found.template));
    kits.push(...new Array<string>(count).fill(kit));
  }
  return { templates, kits, kitsWithout };
}

/**
 * The pattern of a visit in which one crew builds the kits one after the other.
 * Rule: outside work first, as each template orders it. The days of all kits at the same stage (a stage is a run of outside or of inside
 * days) share site days: hours add up to at most `mostHoursADay`, what does not fit opens a further day of the stage. A shared day asks
 * for the most hands, the most holders of each ticket and the lift of any of its parts. The visit asks for every kind of equipment of any
 * template, and for the shortest of the longest gaps.
 */
export function visitPattern(
  file: SeasonFile,
  templates: readonly string[],
  mostHoursADay = MOST_HOURS_A_DAY,
): VisitPattern {
  const stages = templates.map((template, unit) => stagesOf(siteDaysOf(file, template, unit)));
  const next = stages.map(() => 0);
  const planned: PlannedDay[] = [];
  for (;;) {
    const open = stages.map((list, unit) => list[next[unit] as number]);
    if (open.every((stage) => stage === undefined)) break;
    const outside = open.some((stage) => stage?.[0]?.day.outside);
    const taken: PlannedDay[] = [];
    open.forEach((stage, unit) => {
      if (!stage || stage[0]?.day.outside !== outside) return;
      taken.push(...stage);
      next[unit] = (next[unit] as number) + 1;
    });
    planned.push(...(templates.length === 1 ? taken : packed(taken, mostHoursADay)));
  }
  const used = new Set(templates);
  const equipmentKinds = [
    ...new Set(
      file.templateEquipment.filter((row) => used.has(row.template)).map((row) => row.equipmentKind),
    ),
  ].sort();
  const gaps = file.buildTemplates.filter((row) => used.has(row.key)).map((row) => row.maxGapDays);
  return {
    siteDays: planned.map(({ day }) => day),
    parts: planned.map(({ parts }) => parts),
    maxGapDays: Math.min(...gaps),
    equipmentKinds,
    templates,
  };
}

function siteDaysOf(file: SeasonFile, template: string, unit: number): PlannedDay[] {
  const tickets = groupBy(
    file.templateDayTickets.filter((row) => row.template === template),
    (row) => String(row.dayNumber),
  );
  return file.templateDays
    .filter((row) => row.template === template)
    .sort((a, b) => a.dayNumber - b.dayNumber)
    .map((row) => ({
      parts: [{ unit, dayNumber: row.dayNumber }],
      day: {
        outside: row.outside,
        hours: row.hours,
        hands: row.hands,
        tickets: (tickets.get(String(row.dayNumber)) ?? [])
          .map(({ ticket, count }) => ({ ticket, count }))
          .sort(byTicket),
        liftType: row.liftType ?? null,
      },
    }));
}

function stagesOf(days: readonly PlannedDay[]): PlannedDay[][] {
  const stages: PlannedDay[][] = [];
  for (const planned of days) {
    const last = stages.at(-1);
    if (last && last[0]?.day.outside === planned.day.outside) last.push(planned);
    else stages.push([planned]);
  }
  return stages;
}

function packed(days: readonly PlannedDay[], mostHoursADay: number): PlannedDay[] {
  const full: PlannedDay[] = [];
  for (const { day, parts } of days) {
    const last = full.at(-1);
    if (last && last.day.hours + day.hours <= mostHoursADay) {
      full[full.length - 1] = { day: together(last.day, day), parts: [...last.parts, ...parts] };
    } else full.push({ day, parts });
  }
  return full;
}

function together(a: SiteDay, b: SiteDay): SiteDay {
  const counts = new Map<string, number>();
  for (const { ticket, count } of [...a.tickets, ...b.tickets])
    counts.set(ticket, Math.max(count, counts.get(ticket) ?? 0));
  return {
    outside: a.outside,
    hours: a.hours + b.hours,
    hands: Math.max(a.hands, b.hands),
    tickets: [...counts].map(([ticket, count]) => ({ ticket, count })).sort(byTicket),
    liftType: a.liftType ?? b.liftType,
  };
}

function byTicket(a: { ticket: string }, b: { ticket: string }): number {
  return a.ticket < b.ticket ? -1 : a.ticket > b.ticket ? 1 : 0;
}
