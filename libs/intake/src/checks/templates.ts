import type { Fault, SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import { criticalPath } from '../../../visit/src/index.ts';
import { groupBy, numbered } from '../tables.ts';
import { fault } from './fault.ts';

/** Site days numbered from 1 without a hole, and steps whose order can be kept. */
export function checkTemplates(file: SeasonFile): Fault[] {
  return [...checkDayNumbers(file), ...checkDayOrder(file), ...checkStepOrder(file)];
}

function checkDayNumbers(file: SeasonFile): Fault[] {
  const days = groupBy(file.templateDays, (row) => row.template);
  return numbered(file, 'buildTemplates').flatMap(({ row, number }) => {
    const numbers = (days.get(row.key) ?? []).map((day) => day.dayNumber).sort((a, b) => a - b);
    const hole = numbers.findIndex((dayNumber, index) => dayNumber !== index + 1);
    if (numbers.length > 0 && hole < 0) return [];
    const message =
      numbers.length === 0
        ? `The template ${row.key} has no site day.`
        : `The template ${row.key} has no site day ${hole + 1}, though it has a day ${numbers[hole]}.`;
    return [
      fault(
        { table: 'buildTemplates', row: number, column: 'key', value: row.key },
        'not-possible',
        message,
        'site days numbered 1, 2, 3 ... in the table templateDays',
      ),
    ];
  });
}

/** A step that comes first must not lie on a later site day. */
function checkDayOrder(file: SeasonFile): Fault[] {
  const dayOf = new Map(file.steps.map((step) => [stepId(step.template, step.key), step.dayNumber]));
  return numbered(file, 'stepPrecedence').flatMap(({ row, number }) => {
    const before = dayOf.get(stepId(row.template, row.before));
    const after = dayOf.get(stepId(row.template, row.after));
    if (before === undefined || after === undefined || before <= after) return [];
    const message = `In ${row.template} the step ${row.before} comes first, but lies on site day ${before}, and ${row.after} on day ${after}.`;
    return [
      fault(
        { table: 'stepPrecedence', row: number, column: 'after', value: row.after },
        'wrong-order',
        message,
        'the step that comes first on the same or an earlier site day',
      ),
    ];
  });
}

/** No ring of steps, and no least and most times that contradict each other. */
function checkStepOrder(file: SeasonFile): Fault[] {
  const orders = groupBy(numbered(file, 'stepPrecedence'), ({ row }) => row.template);
  const steps = groupBy(file.steps, (row) => row.template);
  return [...orders].flatMap(([template, rows]) => {
    const path = criticalPath(
      (steps.get(template) ?? []).map(visitStepOf),
      rows.map(({ row }) => ({ ...row, maxLagMin: row.maxLagMin ?? null })),
    );
    if (path.ok || path.problem.kind !== 'order-impossible') return [];
    const ring = path.problem.steps;
    const first = rows.find(({ row }) => ring.includes(row.before) && ring.includes(row.after)) ?? rows[0];
    const message = `In ${template} the order of the steps ${ring.join(', ')} cannot be kept: it goes round in a ring, or its least and most times contradict each other.`;
    const place = {
      table: 'stepPrecedence',
      row: first?.number ?? 0,
      column: 'after',
      value: first?.row.after ?? null,
    } as const;
    return [
      fault(
        place,
        'cycle',
        message,
        'an order without a ring, in which most times leave room for what lies between',
      ),
    ];
  });
}

/** The part of a step row that a critical path needs. */
export function visitStepOf(row: SeasonRow<'steps'>) {
  return { key: row.key, durationMin: row.durationMin, minHands: row.minHands, maxHands: row.maxHands };
}

function stepId(template: string, step: string): string {
  return `${template}/${step}`;
}
