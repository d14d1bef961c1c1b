import {
  cents,
  choice,
  date,
  integer,
  key,
  latitude,
  longitude,
  note,
  number,
  optional,
  ref,
  text,
} from './column.ts';
import { defineTable } from './table.ts';

export const liftTypes = defineTable({
  name: 'liftTypes',
  sheet: 'Lift types',
  about:
    "Types of lifting machine. Figures are planning aids: the manufacturer's load chart and a competent person decide.",
  key: ['key'],
  columns: {
    key: key('Short key of the type.'),
    name: text('Name of the type, such as mobile crane or telehandler.'),
    ratedLoadKg: optional(number('Load that it may lift at the working radius.', 'kilograms', 0, 1_000_000)),
    workingRadiusM: optional(number('Radius that the rated load holds for.', 'metres', 0, 200)),
    liftHeightM: optional(number('Height that it reaches.', 'metres', 0, 200)),
    maxGustMps: optional(
      number('Highest gust that the maker allows; empty means unknown.', 'metres per second', 0, 100),
    ),
    needsWidthM: optional(number('Width that it needs on the way in.', 'metres', 0, 20)),
    groundLoadKpa: optional(
      number('Pressure that its supports put on the ground.', 'kilopascals', 0, 10_000),
    ),
    notes: optional(note('What to know when it is used.')),
  },
});

export const lifts = defineTable({
  name: 'lifts',
  sheet: 'Lifts',
  about: 'Lift units that can be hired.',
  key: ['key'],
  columns: {
    key: key('Short key of the unit.'),
    name: text('Name of the unit.'),
    type: ref('liftTypes', 'Its type.'),
    depotLat: latitude('Latitude of the depot (WGS 84).'),
    depotLon: longitude('Longitude of the depot (WGS 84).'),
    partner: optional(ref('partners', 'The hire firm.')),
    rangeKm: number('How far from the depot it is hired out.', 'kilometres', 0, 20_000),
    mobiliseFixedCents: cents('Fixed cost of bringing and fetching it.'),
    mobilisePerKmCents: cents('Cost of each kilometre of bringing and fetching it.'),
    dayCents: cents('Cost of a day of hire.'),
    minDays: integer('Fewest days that are charged.', 'days', 0, 366),
    callOffHours: optional(
      integer(
        'Hours before the start of the site day until which the hire can be called off without a fee; empty means unknown.',
        'hours',
        0,
        2000,
      ),
    ),
    callOffFeeCents: optional(cents('Cost of calling it off later.')),
  },
});

export const liftUnavailable = defineTable({
  name: 'liftUnavailable',
  sheet: 'Lift away',
  about: 'Days on which a lift unit cannot be had.',
  key: ['lift', 'fromDay'],
  columns: {
    lift: ref('lifts', 'The lift unit.'),
    fromDay: date('First day away.'),
    toDay: date('Last day away.'),
    reason: optional(text('Why it cannot be had.')),
  },
  ascending: [['fromDay', 'toDay']],
});

export const liftHires = defineTable({
  name: 'liftHires',
  sheet: 'Lift hires',
  about: 'Hires of a lift unit for a job, and how far they are agreed.',
  key: ['job', 'lift', 'fromDay'],
  columns: {
    job: ref('jobs', 'The job.'),
    lift: ref('lifts', 'The lift unit.'),
    state: choice(['needed', 'asked', 'held', 'confirmed', 'off'], 'Held: kept for us without a firm order.'),
    fromDay: date('First day on site.'),
    toDay: date('Last day on site.'),
    reference: optional(text('Reference of the hire firm.')),
  },
  ascending: [['fromDay', 'toDay']],
  noOverlap: {
    by: ['lift'],
    from: 'fromDay',
    to: 'toDay',
    only: { column: 'state', values: ['held', 'confirmed'] },
  },
});
