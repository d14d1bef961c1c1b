/**
 * The plan as it is written down. It may have been edited by hand, so nothing about its shape is believed: what cannot
 * be read is a violation of rule 0 and is left out of the rest of the check.
 */
import { type Findings, shown } from './findings.ts';

export interface StatedVisit {
  readonly job: string;
  readonly crew: string;
  readonly days: readonly number[];
  readonly reserve: readonly number[];
  readonly casualHands: readonly string[];
  readonly liftUnit: string | null;
  readonly equipment: readonly string[];
  readonly deliveryDay: number | null;
  readonly fromBase: boolean;
}

export interface StatedLine {
  readonly kind: string;
  readonly job: string | null;
  readonly crew: string | null;
  readonly lift: string | null;
  readonly warehouse: string | null;
  readonly cents: number;
}

export interface StatedPlan {
  readonly problemHash: unknown;
  readonly visits: readonly StatedVisit[];
  readonly notPlanned: readonly string[];
  readonly costLines: readonly StatedLine[];
  readonly totalCents: number;
  /** The stated lower bound; null: none is stated. */
  readonly boundCents: number | null;
}

type Loose = Record<string, unknown>;

/** Reads a plan of unknown shape. Everything that had to be left out or mended is among the findings. */
export function readStatedPlan(plan: unknown, findings: Findings): StatedPlan {
  const loose = isObject(plan) ? plan : {};
  if (!isObject(plan)) findings.add(0, 'planShape', {}, `The plan is ${shown(plan)}, an object is needed.`);
  if (loose['formatVersion'] !== 1) {
    findings.add(
      0,
      'formatVersion',
      {},
      `The plan's formatVersion is ${shown(loose['formatVersion'])}, 1 is needed.`,
    );
  }
  return {
    problemHash: loose['problemHash'],
    visits: list(loose['visits'], 'visits', findings).flatMap((visit, i) => readVisit(visit, i, findings)),
    notPlanned: list(loose['notPlanned'], 'notPlanned', findings).flatMap((entry, i) =>
      readNotPlanned(entry, i, findings),
    ),
    costLines: list(loose['costLines'], 'costLines', findings).flatMap((line, i) =>
      readLine(line, i, findings),
    ),
    totalCents: readCents(loose['totalCents'], 'totalCents', findings),
    boundCents: readBound(loose['bound'], findings),
  };
}

function readVisit(visit: unknown, position: number, findings: Findings): StatedVisit[] {
  const where = `Visit ${position + 1}`;
  if (!isObject(visit) || typeof visit['job'] !== 'string' || typeof visit['crew'] !== 'string') {
    const message = `${where} does not name a job and a crew; it is left out of the rest of the check.`;
    findings.add(0, 'visitShape', {}, message, { position });
    return [];
  }
  const job = visit['job'];
  const wrong = (member: string, needed: string): void => {
    const message = `Job ${job}: ${member} is ${shown(visit[member])}, ${needed} is needed.`;
    findings.add(0, 'visitShape', { job }, message, { position, member });
  };
  const days = (member: string): number[] => {
    const value = visit[member];
    if (!Array.isArray(value) || !value.every((day) => Number.isSafeInteger(day)))
      wrong(member, 'a list of whole days');
    return Array.isArray(value) ? value.map((day) => (typeof day === 'number' ? day : Number.NaN)) : [];
  };
  const names = (member: string): string[] => {
    const value = visit[member];
    if (!Array.isArray(value) || !value.every((name) => typeof name === 'string'))
      wrong(member, 'a list of ids');
    return Array.isArray(value) ? value.filter((name) => typeof name === 'string') : [];
  };
  const liftUnit = visit['liftUnit'];
  if (liftUnit !== null && typeof liftUnit !== 'string') wrong('liftUnit', 'an id or null');
  const deliveryDay = visit['deliveryDay'];
  if (deliveryDay !== null && !Number.isSafeInteger(deliveryDay)) wrong('deliveryDay', 'a whole day or null');
  if (typeof visit['fromBase'] !== 'boolean') wrong('fromBase', 'true or false');
  return [
    {
      job,
      crew: visit['crew'],
      days: days('days'),
      reserve: days('reserve'),
      casualHands: names('casualHands'),
      liftUnit: typeof liftUnit === 'string' ? liftUnit : null,
      equipment: names('equipment'),
      deliveryDay: Number.isSafeInteger(deliveryDay) ? (deliveryDay as number) : null,
      fromBase: visit['fromBase'] === true,
    },
  ];
}

function readNotPlanned(entry: unknown, position: number, findings: Findings): string[] {
  if (isObject(entry) && typeof entry['job'] === 'string') return [entry['job']];
  findings.add(0, 'notPlannedShape', {}, `Entry ${position + 1} of notPlanned does not name a job.`, {
    position,
  });
  return [];
}

function readLine(line: unknown, position: number, findings: Findings): StatedLine[] {
  const names = ['job', 'crew', 'lift', 'warehouse'] as const;
  if (
    !isObject(line) ||
    typeof line['kind'] !== 'string' ||
    !Number.isSafeInteger(line['cents']) ||
    !names.every((name) => line[name] === null || typeof line[name] === 'string')
  ) {
    const message = `Cost line ${position + 1} is ${shown(line)}; a kind, ids or null, and whole cents are needed.`;
    findings.add(0, 'costLineShape', {}, message, { position });
    return [];
  }
  return [line as unknown as StatedLine];
}

function readCents(value: unknown, member: string, findings: Findings): number {
  if (Number.isSafeInteger(value)) return value as number;
  findings.add(0, 'totalShape', {}, `${member} is ${shown(value)}, a whole number of cents is needed.`);
  return Number.NaN;
}

function readBound(bound: unknown, findings: Findings): number | null {
  if (bound === null) return null;
  if (isObject(bound) && Number.isFinite(bound['cents'])) return bound['cents'] as number;
  findings.add(
    0,
    'boundShape',
    {},
    `The bound is ${shown(bound)}, null or an object with finite cents is needed.`,
  );
  return null;
}

function list(value: unknown, member: string, findings: Findings): unknown[] {
  if (Array.isArray(value)) return value;
  findings.add(0, 'planShape', {}, `The plan's ${member} is ${shown(value)}, a list is needed.`, { member });
  return [];
}

function isObject(value: unknown): value is Loose {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
