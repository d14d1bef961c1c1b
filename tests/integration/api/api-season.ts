import { planOf, smallSeasonFile, type VisitSketch } from '../data/small-season.ts';

const template = { key: 'two-day', name: 'Two days', visitKind: 'build', maxGapDays: 2 };
const plainTemplate = { ...template, key: 'two-day-plain' };
const day = (of: string, dayNumber: number, outside: boolean, liftType: string | null) => ({
  template: of,
  dayNumber,
  outside,
  hours: 8,
  hands: 2,
  ...(liftType ? { liftType } : {}),
});

/** The small season of the database tests with the templates from which publishing takes its site days. Invented. */
export function apiSeasonFile(): Record<string, unknown> {
  const file = smallSeasonFile();
  const jobs = file['jobs'] as { key: string }[];
  const items = file['readinessItems'] as Record<string, unknown>[];
  return {
    ...file,
    buildTemplates: [template, plainTemplate],
    templateDays: [
      day('two-day', 1, true, 'crane'),
      day('two-day', 2, false, null),
      day('two-day-plain', 1, true, null),
      day('two-day-plain', 2, false, null),
    ],
    jobs: jobs.map((job) => ({ ...job, template: job.key === 'cape-build' ? 'two-day-plain' : 'two-day' })),
    readinessItems: [
      ...items,
      {
        job: 'hill-build',
        key: 'level',
        title: 'The pad is level (out of level in millimetres)',
        dueDaysBefore: 7,
        responsible: 'customer',
        evidence: 'number',
        unit: 'mm',
        toleranceLow: 0,
        toleranceHigh: 5,
        mustBeTrue: true,
        state: 'open',
      },
    ],
    deliveryRuns: [
      { job: 'hill-build', day: '2026-06-05', haulier: 'haul', truckKind: 'craneTruck', state: 'needed' },
    ],
  };
}

/** Where the plan of the tests puts the jobs. */
export const sketches: readonly VisitSketch[] = [
  {
    job: 'hill-build',
    crew: 'north',
    days: ['2026-06-08', '2026-06-09'],
    reserve: ['2026-06-10'],
    liftUnit: 'crane-1',
    equipment: ['trailer-1'],
    deliveryDay: '2026-06-05',
  },
  {
    job: 'cape-build',
    crew: 'south',
    days: ['2026-07-06', '2026-07-07'],
    deliveryDay: '2026-07-03',
  },
];

export const apiPlan = () => planOf(sketches);
