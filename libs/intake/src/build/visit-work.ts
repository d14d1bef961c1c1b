import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import { DryspellError } from '../../../kernel/src/index.ts';
import type { OutsideStep, SiteDayWork, StepLimits, VisitWork } from '../../../weather/src/index.ts';
import { type IntakeWarning, warning } from '../warning.ts';
import { lagBefore, lagsNotCounted, stepsInOrder } from './step-order.ts';

type Step = SeasonRow<'steps'>;
type TemplateDay = SeasonRow<'templateDays'>;

/**
 * Limits that stand in where a season file says nothing: for an outside day without steps, and the gust for a lift without a wind limit.
 * Common practice for panels that several people carry, no published source; each use is a warning.
 */
export const ASSUMED_DAY_LIMITS: StepLimits = {
  gustMps: 9,
  meanWindMps: null,
  loadHeightM: null,
  rainMmPerHour: 0.2,
  tempMinC: 0,
  tempMaxC: null,
  dewPointMarginC: null,
  needsDaylight: true,
};

/** The outside work of a visit as weather sees it, and what had to be assumed or could not be counted. */
export interface VisitWorkAnswer {
  readonly work: VisitWork;
  readonly warnings: readonly IntakeWarning[];
}

/**
 * The site days of a template in order, each outside day with its outside steps one after the other: in the order of the file, save where the step
 * order asks for another. Steps that are done inside in between take their time and no weather. The make-safe gust is the kit's; without a kit it
 * is unknown, so work may not stop half done. Throws `invalid-input` for a template or kit that the file does not have.
 */
export function visitWork(file: SeasonFile, templateKey: string, kitKey: string | null): VisitWorkAnswer {
  const template = found(file.buildTemplates, templateKey, 'template');
  const kit = kitKey === null ? null : found(file.kits, kitKey, 'kit');
  const makeSafeGustMps = kit?.makeSafeGustMps ?? null;
  const warnings: IntakeWarning[] = [];
  const days = file.templateDays
    .filter((day) => day.template === template.key)
    .sort((a, b) => a.dayNumber - b.dayNumber);
  const work = days.map((day) =>
    day.outside ? { steps: stepsOfDay(file, day, warnings), makeSafeGustMps } : null,
  );
  warnings.push(...lagsNotCounted(file, template.key));
  if (makeSafeGustMps === null && work.some((day) => day?.steps.some(({ mayStopAfter }) => mayStopAfter)))
    warnings.push(
      warning(
        'make-safe-unknown',
        kit ? 'kits' : 'buildTemplates',
        kit?.key ?? template.key,
        `${kit ? `The kit ${kit.key} has` : 'There is'} no make-safe gust, so a night with a part-built state counts as not allowed; enter makeSafeGustMps from the maker.`,
      ),
    );
  return { work, warnings };
}

function found<Row extends { readonly key: string }>(rows: readonly Row[], key: string, field: string): Row {
  const row = rows.find((candidate) => candidate.key === key);
  if (row) return row;
  throw new DryspellError('invalid-input', {
    field,
    value: key,
    expected: `one of ${rows.map((each) => each.key).join(', ') || 'none; the file has none'}`,
  });
}

function stepsOfDay(file: SeasonFile, day: TemplateDay, warnings: IntakeWarning[]): SiteDayWork['steps'] {
  const all = stepsInOrder(file, day);
  const outside = all.filter((step) => step.outside);
  const id = `${day.template}/${day.dayNumber}`;
  if (outside.length === 0) {
    const { gustMps, rainMmPerHour, tempMinC } = ASSUMED_DAY_LIMITS;
    warnings.push(
      warning(
        'day-without-steps',
        'templateDays',
        id,
        `Site day ${day.dayNumber} of ${day.template} is outside, but has no outside step: taken as ${day.hours} hours of work with pauses, in daylight, gusts to ${gustMps} m/s, rain to ${rainMmPerHour} mm an hour, from ${tempMinC} C. Enter its steps with their limits.`,
        { hours: day.hours },
      ),
    );
    return [wholeDay(day)];
  }
  const windless = outside.filter((step) => !hasWindLimit(step));
  // On a day with a lift somebody lifts, even if no step says which.
  const liftUnnamed = Boolean(day.liftType) && windless.length === outside.length;
  const assumed = windless.filter((step) => liftUnnamed || lifts(step));
  const unlimited = windless.filter((step) => !assumed.includes(step));
  if (assumed.length > 0)
    warnings.push(
      warning(
        'lift-limit-assumed',
        'steps',
        id,
        `Nobody says at which wind these lifts of ${day.template} stop: ${keys(assumed)}. Taken as a gust of ${ASSUMED_DAY_LIMITS.gustMps} m/s at the load; enter the maker's limit before you rely on these odds.`,
        { steps: keys(assumed) },
      ),
    );
  if (unlimited.length > 0)
    warnings.push(
      warning(
        'wind-limit-unknown',
        'steps',
        id,
        `These outside steps of ${day.template} have no wind limit, so no wind stops them in these odds: ${keys(unlimited)}. Enter gustLimitMps or meanWindLimitMps.`,
        { steps: keys(unlimited) },
      ),
    );
  return outside.map((step, at) => ({
    key: step.key,
    durationMin: step.durationMin,
    interruptible: step.interruptible,
    limits: limitsOf(step, assumed.includes(step)),
    dryAfterMin: step.dryAfterMin ?? 0,
    ...lagBefore(file, all, outside[at - 1], step),
    mayStopAfter: step.mayStopAfter ?? false,
  }));
}

function wholeDay(day: TemplateDay): OutsideStep {
  return {
    key: `day-${day.dayNumber}`,
    durationMin: Math.round(day.hours * 60),
    interruptible: true,
    limits: ASSUMED_DAY_LIMITS,
    dryAfterMin: 0,
    lagMin: 0,
    maxLagMin: null,
    mayStopAfter: false,
  };
}

function limitsOf(step: Step, assumeGust: boolean): StepLimits {
  return {
    gustMps: step.gustLimitMps ?? (assumeGust ? ASSUMED_DAY_LIMITS.gustMps : null),
    meanWindMps: step.meanWindLimitMps ?? null,
    // Wind at the ground cannot be asked for; a load that does not leave it takes the wind of the record.
    loadHeightM: step.loadHeightM || null,
    rainMmPerHour: step.rainLimitMmPerHour ?? null,
    tempMinC: step.temperatureMinC ?? null,
    tempMaxC: step.temperatureMaxC ?? null,
    dewPointMarginC: step.dewPointMarginC ?? null,
    needsDaylight: step.needsDaylight,
  };
}

const hasWindLimit = (step: Step): boolean => (step.gustLimitMps ?? step.meanWindLimitMps ?? null) !== null;
const lifts = (step: Step): boolean => (step.loadHeightM ?? 0) > 0;
const keys = (steps: readonly Step[]): string => steps.map(({ key }) => key).join(', ');
