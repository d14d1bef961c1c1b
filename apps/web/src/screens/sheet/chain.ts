import type { SheetJob } from './sheet-model.ts';

/** A mark of a job's chain: each kind has its own letter and its own shape. */
export type MarkKind = 'goods' | 'ready' | 'lift' | 'outside' | 'inside' | 'unknown' | 'reserve' | 'promised';

export interface Mark {
  readonly kind: MarkKind;
  readonly date: string;
}

export const MARKS: Readonly<Record<MarkKind, { readonly letter: string; readonly words: string }>> = {
  ready: { letter: 'S', words: 'Site ready from' },
  goods: { letter: 'G', words: 'Goods come to the site' },
  lift: { letter: 'L', words: 'Lift on site' },
  outside: { letter: 'O', words: 'Crew works outside (needs dry, calm weather)' },
  inside: { letter: 'I', words: 'Crew works inside' },
  unknown: { letter: '?', words: 'Crew on site; whether outside is not known' },
  reserve: { letter: 'R', words: 'Reserve day, held back for bad weather' },
  promised: { letter: 'P', words: 'Last day promised to the customer' },
};

/** The marks of the upper line: the crew's stay. */
export function stayMarks(job: SheetJob): Mark[] {
  const { visit } = job;
  if (!visit) return [];
  return [
    ...visit.days.map((day): Mark => ({ kind: workKind(day.outside), date: day.date })),
    ...visit.reserve.map((date): Mark => ({ kind: 'reserve', date })),
  ];
}

function workKind(outside: boolean | null): MarkKind {
  if (outside === null) return 'unknown';
  return outside ? 'outside' : 'inside';
}

/** The marks of the lower line: what the stay hangs on. */
export function chainMarks(job: SheetJob): Mark[] {
  const marks: Mark[] = [{ kind: 'ready', date: job.siteReadyFrom }];
  if (job.visit?.deliveryDay) marks.push({ kind: 'goods', date: job.visit.deliveryDay });
  for (const date of job.visit?.lift?.days ?? []) marks.push({ kind: 'lift', date });
  if (job.promisedBy) marks.push({ kind: 'promised', date: job.promisedBy });
  return marks;
}

/** First and last date that a job touches. */
export function reachOf(job: SheetJob): { from: string; to: string } {
  const dates = [...stayMarks(job), ...chainMarks(job)].map((mark) => mark.date).sort();
  return { from: dates[0] as string, to: dates.at(-1) as string };
}

/** Puts the jobs of a site into as few lanes as keep their chains apart, in the order of their first dates. */
export function lanesOf(jobs: readonly SheetJob[]): SheetJob[][] {
  const lanes: { jobs: SheetJob[]; to: string }[] = [];
  const ordered = jobs.map((job) => ({ job, ...reachOf(job) })).sort((a, b) => (a.from < b.from ? -1 : 1));
  for (const { job, from, to } of ordered) {
    const free = lanes.find((lane) => lane.to < from);
    if (free) {
      free.jobs.push(job);
      free.to = to;
    } else {
      lanes.push({ jobs: [job], to });
    }
  }
  return lanes.map((lane) => lane.jobs);
}

/** Marks of one date side by side would cover one another: each gets its place in the cell, from 0. */
export function stacked(marks: readonly Mark[]): { mark: Mark; place: number; of: number }[] {
  return marks.map((mark, index) => {
    const same = marks.filter((other) => other.date === mark.date);
    return {
      mark,
      place: marks.slice(0, index).filter((other) => other.date === mark.date).length,
      of: same.length,
    };
  });
}
