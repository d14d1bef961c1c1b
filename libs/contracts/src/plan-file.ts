/**
 * The plan file: a season plan as JSON with calendar dates, for people and other programs. It mirrors the season plan of the planner, whose
 * days are numbers; this lib knows nothing of the planner, so the shape is written down here again and a test keeps the two together.
 */
import { z } from 'zod';
import {
  type Day,
  DryspellError,
  isLocalDate,
  type LocalDate,
  toDay,
  toLocalDate,
} from '../../kernel/src/index.ts';

const localDate = z.string().refine(isLocalDate, { error: 'should be a date such as 2027-05-31' });
const wholeCents = z.int();
const id = z.string().min(1);

const binding = z
  .strictObject({
    kind: z.enum([
      'siteReady',
      'goods',
      'delivery',
      'crewBusy',
      'crewCalendar',
      'siteClosed',
      'hands',
      'tickets',
      'lift',
      'equipment',
      'nightsAway',
      'frozen',
      'pin',
      'weather',
      'cost',
      'horizon',
    ]),
    data: z.record(z.string(), z.union([z.string(), z.number()])),
  })
  .meta({
    description:
      'One rule that keeps a date from being earlier, with the names and numbers that its words need; `day` is a date.',
  });

const visit = z.strictObject({
  job: id,
  title: z.string().meta({ description: 'Title of the job, for people.' }),
  crew: id,
  crewName: z.string(),
  days: z.array(localDate).min(1).meta({ description: 'Site days in order; the first is the start.' }),
  reserve: z
    .array(localDate)
    .meta({ description: 'Working days held back for weather after the last site day.' }),
  casualHands: z.array(id),
  liftUnit: id.nullable(),
  equipment: z.array(id),
  deliveryDay: localDate
    .nullable()
    .meta({ description: 'Date on which the goods stand at the site; null without goods.' }),
  fromBase: z
    .boolean()
    .meta({ description: 'True: the crew comes from its base; false: straight from its previous visit.' }),
  bindings: z.array(binding),
});

const costLine = z.strictObject({
  kind: z.enum([
    'late',
    'notPlanned',
    'standby',
    'km',
    'nights',
    'travelDays',
    'casualHands',
    'liftHire',
    'bays',
    'bayOverflow',
    'moved',
    'crewChanged',
  ]),
  job: id.nullable(),
  crew: id.nullable(),
  lift: id.nullable(),
  warehouse: id.nullable(),
  cents: wholeCents,
});

/** A plan file, checked. Unknown members are refused, so that a misspelt one is not lost in silence. */
export const planFileSchema = z.strictObject({
  format: z.literal('dryspell-plan'),
  formatVersion: z.literal(1),
  season: z.string(),
  currency: z.string().regex(/^[A-Z]{3}$/),
  firstDay: localDate,
  lastDay: localDate,
  problemHash: z.string().meta({ description: 'Hash of the season problem that was planned.' }),
  visits: z.array(visit),
  notPlanned: z.array(z.strictObject({ job: id, title: z.string(), bindings: z.array(binding) })),
  costLines: z.array(costLine),
  totalCents: wholeCents.meta({
    description: 'Sum of the cost lines, in whole minor units of the currency.',
  }),
  bound: z
    .strictObject({ cents: wholeCents, method: z.string() })
    .nullable()
    .meta({ description: 'A proven lower bound on the total of any valid plan; null: none was proved.' }),
  made: z.strictObject({ seed: z.int(), iterations: z.int().min(0), method: z.string() }),
});

export type PlanFile = z.infer<typeof planFileSchema>;

type BindingRow = z.infer<typeof binding>;
type Dayed<Row, Dates extends keyof Row, Titles extends keyof Row> = Omit<Row, Dates | Titles>;
type VisitRow = z.infer<typeof visit>;

/** The season plan as the planner holds it: days are whole numbers since 1970-01-01. */
export interface PlanFileSource {
  readonly formatVersion: 1;
  readonly problemHash: string;
  readonly visits: readonly (ReadonlyDeep<
    Dayed<VisitRow, 'days' | 'reserve' | 'deliveryDay', 'title' | 'crewName'>
  > & {
    readonly days: readonly Day[];
    readonly reserve: readonly Day[];
    readonly deliveryDay: Day | null;
  })[];
  readonly notPlanned: readonly {
    readonly job: string;
    readonly bindings: readonly ReadonlyDeep<BindingRow>[];
  }[];
  readonly costLines: readonly Readonly<z.infer<typeof costLine>>[];
  readonly totalCents: number;
  readonly bound: { readonly cents: number; readonly method: string } | null;
  readonly made: { readonly seed: number; readonly iterations: number; readonly method: string };
}

/** What a plan file tells of the problem besides the plan. */
export interface PlanFileSeason {
  readonly name: string;
  readonly currency: string;
  readonly firstDay: Day;
  readonly lastDay: Day;
  readonly jobs: readonly { readonly id: string; readonly title: string }[];
  readonly crews: readonly { readonly id: string; readonly name: string }[];
}

type ReadonlyDeep<Value> = Value extends (infer Item)[]
  ? readonly ReadonlyDeep<Item>[]
  : Value extends object
    ? { readonly [Name in keyof Value]: ReadonlyDeep<Value[Name]> }
    : Value;

/** Writes a plan with dates, and with the titles of jobs and the names of crews for people. */
export function toPlanFile(plan: PlanFileSource, problem: PlanFileSeason): PlanFile {
  const titles = new Map(problem.jobs.map((job) => [job.id, job.title]));
  const names = new Map(problem.crews.map((crew) => [crew.id, crew.name]));
  return {
    format: 'dryspell-plan',
    formatVersion: 1,
    season: problem.name,
    currency: problem.currency,
    firstDay: toLocalDate(problem.firstDay),
    lastDay: toLocalDate(problem.lastDay),
    problemHash: plan.problemHash,
    visits: plan.visits.map((row) => ({
      job: row.job,
      title: titles.get(row.job) ?? row.job,
      crew: row.crew,
      crewName: names.get(row.crew) ?? row.crew,
      days: row.days.map(toLocalDate),
      reserve: row.reserve.map(toLocalDate),
      casualHands: [...row.casualHands],
      liftUnit: row.liftUnit,
      equipment: [...row.equipment],
      deliveryDay: row.deliveryDay === null ? null : toLocalDate(row.deliveryDay),
      fromBase: row.fromBase,
      bindings: row.bindings.map(datedBinding),
    })),
    notPlanned: plan.notPlanned.map((row) => ({
      job: row.job,
      title: titles.get(row.job) ?? row.job,
      bindings: row.bindings.map(datedBinding),
    })),
    costLines: plan.costLines.map((line) => ({ ...line })),
    totalCents: plan.totalCents,
    bound: plan.bound && { ...plan.bound },
    made: { ...plan.made },
  };
}

/** Reads a plan file back into the planner's form. Throws `invalid-input` with the places and expectations if it is not one. */
export function fromPlanFile(file: unknown): PlanFileSource {
  const read = planFileSchema.safeParse(file);
  if (!read.success) {
    throw new DryspellError('invalid-input', {
      file: 'plan file',
      problems: read.error.issues.map((issue) => ({ at: issue.path.join('.'), problem: issue.message })),
    });
  }
  const { visits, notPlanned, ...rest } = read.data;
  return {
    formatVersion: 1,
    problemHash: rest.problemHash,
    visits: visits.map(({ title: _title, crewName: _crewName, ...row }) => ({
      ...row,
      days: row.days.map(dayOf),
      reserve: row.reserve.map(dayOf),
      deliveryDay: row.deliveryDay === null ? null : dayOf(row.deliveryDay),
      bindings: row.bindings.map(numberedBinding),
    })),
    notPlanned: notPlanned.map((row) => ({ job: row.job, bindings: row.bindings.map(numberedBinding) })),
    costLines: rest.costLines,
    totalCents: rest.totalCents,
    bound: rest.bound,
    made: rest.made,
  };
}

function dayOf(date: string): Day {
  return toDay(date as LocalDate);
}

function datedBinding({ kind, data }: ReadonlyDeep<BindingRow>): BindingRow {
  const { day } = data;
  return { kind, data: typeof day === 'number' ? { ...data, day: toLocalDate(day) } : { ...data } };
}

function numberedBinding({ kind, data }: BindingRow): BindingRow {
  const { day } = data;
  return { kind, data: typeof day === 'string' && isLocalDate(day) ? { ...data, day: toDay(day) } : data };
}
