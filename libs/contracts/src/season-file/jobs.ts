import { cents, choice, date, flag, integer, key, note, number, optional, ref, text } from './column.ts';
import { defineTable } from './table.ts';
import { visitKinds } from './templates.ts';

export const jobs = defineTable({
  name: 'jobs',
  sheet: 'Jobs',
  about: 'What is to be done at a site: each job becomes one visit of a crew.',
  key: ['key'],
  columns: {
    key: key('Short key of the job.'),
    site: ref('sites', 'Where.'),
    visitKind: choice(visitKinds, 'Kind of visit.'),
    title: text('What it is called on screens and in messages.'),
    template: optional(
      ref('buildTemplates', 'Build template; empty means that of its kits for this kind of visit.'),
    ),
    siteReadyFrom: date('First day on which the site can be worked on.'),
    promisedBy: optional(date('Last day that the customer was promised; empty means no promise.')),
    lateCentsPerDay: cents('Cost of each day after the promise.'),
    notPlannedCents: cents('Cost of not doing the job this season.'),
    warehouse: optional(ref('warehouses', 'Where its goods wait; empty means that it needs no goods.')),
    goodsFrom: optional(
      date(
        'First day on which the goods can leave the warehouse; given here it beats the estimate from milestones.',
      ),
    ),
    pinnedStart: optional(date('The visit must start on this day.')),
    pinnedCrew: optional(ref('crews', 'The visit must be done by this crew.')),
    pinReason: optional(text('Why it is pinned.', 500)),
    publishedStart: optional(date('Start in the published plan; set by publishing.')),
    publishedCrew: optional(ref('crews', 'Crew in the published plan; set by publishing.')),
    notes: optional(note('What the manager should know.')),
  },
});

export const jobKits = defineTable({
  name: 'jobKits',
  sheet: 'Job kits',
  about: 'Kits of a job; a school may have two domes.',
  key: ['job', 'kit'],
  columns: {
    job: ref('jobs', 'The job.'),
    kit: ref('kits', 'The kit.'),
    count: integer('How many of it.', 'kits', 1, 100),
  },
});

export const readinessItems = defineTable({
  name: 'readinessItems',
  sheet: 'Readiness items',
  about: 'What must be ready before the visit of a job, who sees to it, and what proves it.',
  key: ['job', 'key'],
  columns: {
    job: ref('jobs', 'The job.'),
    key: key('Short key of the item within the job.'),
    title: text('What must be ready, in words for the one who does it.', 300),
    dueDaysBefore: integer('Due this many days before the visit starts.', 'days', 0, 366),
    responsible: choice(['customer', 'manager', 'crew', 'partner'], 'Who sees to it.'),
    evidence: choice(['tick', 'number', 'photo', 'document'], 'What proves it.'),
    unit: optional(text('Unit of a measured value.', 40)),
    toleranceLow: optional(
      number('Lowest value that passes.', 'the unit of the item', -1_000_000, 1_000_000),
    ),
    toleranceHigh: optional(
      number('Highest value that passes.', 'the unit of the item', -1_000_000, 1_000_000),
    ),
    mustBeTrue: flag('True when the visit may not start without it (readiness gate).'),
    state: choice(
      ['open', 'claimed', 'accepted', 'refused', 'waived'],
      'Claimed: said to be ready; accepted: seen and accepted by the manager.',
    ),
    value: optional(number('Measured value.', 'the unit of the item', -1_000_000, 1_000_000)),
    expectedOn: optional(date('Day on which it is expected to be ready.')),
    doneOn: optional(date('Day on which it was said to be ready.')),
    remark: optional(note('What was said about it.')),
  },
  ascending: [['toleranceLow', 'toleranceHigh']],
});
