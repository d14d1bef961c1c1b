import {
  cents,
  choice,
  containerNumber,
  date,
  instant,
  integer,
  key,
  number,
  optional,
  ref,
  text,
} from './column.ts';
import { defineTable } from './table.ts';

/** In the order in which they come; a chain may leave some out. */
export const milestoneKinds = [
  'readyAtWorks',
  'loaded',
  'sailed',
  'arrived',
  'released',
  'collected',
  'unpacked',
  'partsChecked',
  'readyToGo',
] as const;

export const consignments = defineTable({
  name: 'consignments',
  sheet: 'Consignments',
  about: 'Goods that travel together to a warehouse.',
  key: ['key'],
  columns: {
    key: key('Short key of the consignment.'),
    partner: optional(ref('partners', 'The forwarder.')),
    warehouse: ref('warehouses', 'Where the goods go.'),
    lotNumber: optional(text('Lot number of the works.')),
    portName: optional(text('Port of arrival.')),
  },
});

export const consignmentJobs = defineTable({
  name: 'consignmentJobs',
  sheet: 'Consignment jobs',
  about: 'Jobs whose goods are in a consignment.',
  key: ['consignment', 'job'],
  columns: {
    consignment: ref('consignments', 'The consignment.'),
    job: ref('jobs', 'The job.'),
  },
});

export const containers = defineTable({
  name: 'containers',
  sheet: 'Containers',
  about: 'Containers of a consignment.',
  key: ['number'],
  columns: {
    number: containerNumber('Number on the container.'),
    consignment: ref('consignments', 'The consignment.'),
    freeDays: integer('Days after arrival before the container costs money (free time).', 'days', 0, 366),
    dayCostCents: cents('Cost of each day after free time.'),
  },
});

export const milestones = defineTable({
  name: 'milestones',
  sheet: 'Milestones',
  about:
    'The way of the goods. Days are counted from the milestone before it in the same chain; the first of a chain counts from its planned date. An actual date ends all guessing.',
  key: ['consignment', 'container', 'kind'],
  columns: {
    consignment: optional(ref('consignments', 'The consignment whose chain this is.')),
    container: optional(ref('containers', 'The container whose chain this is.', 'number')),
    kind: choice(milestoneKinds, 'Which milestone.'),
    planned: optional(date('Date that was announced or agreed.')),
    lowDays: optional(number('Days after the milestone before: as quick as it can be.', 'days', 0, 366)),
    likelyDays: optional(number('Days after the milestone before: most likely.', 'days', 0, 366)),
    highDays: optional(
      number('Days after the milestone before: as slow as must be reckoned with.', 'days', 0, 366),
    ),
    actual: optional(date('Date on which it happened.')),
    source: optional(text('Who said so.')),
  },
  ascending: [['lowDays', 'likelyDays', 'highDays']],
  exactlyOneOf: [['consignment', 'container']],
});

export const deliveryRuns = defineTable({
  name: 'deliveryRuns',
  sheet: 'Delivery runs',
  about: 'Trucks that bring the goods of a job to its site.',
  key: ['job', 'day'],
  columns: {
    job: ref('jobs', 'The job.'),
    day: date('Day of the run.'),
    haulier: optional(ref('partners', 'Who drives.')),
    truckKind: choice(['craneTruck', 'flatbed'], 'A flatbed needs a forklift on the site.'),
    state: choice(['needed', 'asked', 'confirmed', 'done', 'off'], 'How far it is agreed.'),
    reference: optional(text('Reference of the haulier.')),
    costCents: optional(cents('Price of the run; empty means unknown.')),
    cancelUntil: optional(
      instant('Last moment at which it can be called off without the fee; empty means unknown.'),
    ),
    feeCents: optional(cents('Cost of calling it off later.')),
  },
});
