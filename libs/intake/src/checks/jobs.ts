import type { Fault, SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import { templatesOfJob } from '../build/visit-pattern.ts';
import { byKey, numbered } from '../tables.ts';
import { fault } from './fault.ts';

/** Each job must have something to do, one type of lift at most, and its goods in one warehouse. */
export function checkJobs(file: SeasonFile): Fault[] {
  const templates = byKey(file.buildTemplates);
  return numbered(file, 'jobs').flatMap(({ row, number }) => [
    ...checkTemplate(file, row, number, templates),
    ...checkLiftType(file, row, number),
    ...checkWarehouse(file, row, number),
  ]);
}

function checkTemplate(
  file: SeasonFile,
  row: SeasonRow<'jobs'>,
  number: number,
  templates: ReadonlyMap<string, SeasonRow<'buildTemplates'>>,
): Fault[] {
  const place = { table: 'jobs', row: number, column: 'template', value: row.template ?? null } as const;
  const own = row.template ? templates.get(row.template) : undefined;
  if (own && own.visitKind !== row.visitKind) {
    const message = `The job ${row.key} is a visit of the kind ${row.visitKind}, but its template ${own.key} describes a ${own.visitKind}.`;
    return [fault(place, 'not-possible', message, `a template of the kind ${row.visitKind}`)];
  }
  const found = templatesOfJob(file, row);
  const expected =
    'a template in the row of the job, or a row in kitTemplates for each of its kits and this kind of visit';
  if (found.kitsWithout.length > 0) {
    const message = `The job ${row.key} has no template: for the kit ${found.kitsWithout.join(', ')} and a visit of the kind ${row.visitKind} there is none.`;
    return [fault(place, 'no-template', message, expected)];
  }
  if (found.templates.length > 0) return [];
  return [
    fault(
      place,
      'no-template',
      `The job ${row.key} has neither a template nor a kit, so nobody knows what is to be done.`,
      expected,
    ),
  ];
}

function checkLiftType(file: SeasonFile, row: SeasonRow<'jobs'>, number: number): Fault[] {
  const used = new Set(templatesOfJob(file, row).templates);
  const types = [
    ...new Set(
      file.templateDays
        .filter((day) => used.has(day.template) && day.liftType)
        .map((day) => day.liftType as string),
    ),
  ];
  if (types.length <= 1) return [];
  const message = `The job ${row.key} needs ${types.length} types of lift: ${types.join(', ')}. A visit has one.`;
  return [
    fault(
      { table: 'jobs', row: number, column: 'key', value: row.key },
      'not-possible',
      message,
      'one type of lift for a job; split the job, or give it a template of its own',
    ),
  ];
}

function checkWarehouse(file: SeasonFile, row: SeasonRow<'jobs'>, number: number): Fault[] {
  if (!row.warehouse) return [];
  const consignments = byKey(file.consignments);
  const elsewhere = file.consignmentJobs
    .filter((each) => each.job === row.key)
    .map((each) => consignments.get(each.consignment))
    .find((consignment) => consignment && consignment.warehouse !== row.warehouse);
  if (!elsewhere) return [];
  const message = `The goods of ${row.key} wait in ${row.warehouse}, but the consignment ${elsewhere.key} goes to ${elsewhere.warehouse}.`;
  return [
    fault(
      { table: 'jobs', row: number, column: 'warehouse', value: row.warehouse },
      'not-possible',
      message,
      `${elsewhere.warehouse}, or another consignment`,
    ),
  ];
}
