import { flag, integer, key, note, number, optional, ref, text } from './column.ts';
import { defineTable } from './table.ts';

export const steps = defineTable({
  name: 'steps',
  sheet: 'Steps',
  about:
    'The steps of a site day with their limits. An empty limit means that none is set, not that none applies.',
  key: ['template', 'key'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    key: key('Short key of the step within the template.'),
    name: text('What is done.'),
    dayNumber: integer('Site day on which it is done.', null, 1, 30),
    durationMin: integer('Work with the most hands that help.', 'minutes', 0, 1440),
    minHands: integer('Fewest people who can do it.', 'people', 0, 50),
    maxHands: integer('Most people who help.', 'people', 0, 50),
    outside: flag('True when it is done outdoors.'),
    interruptible: flag('True when it may be paused and taken up again.'),
    holdPoint: flag('True when work stops until a value is measured and accepted.'),
    holdPointMeasure: optional(text('What is measured at the hold point.')),
    holdPointUnit: optional(text('Unit of the measured value.', 40)),
    toleranceLow: optional(
      number('Lowest value that passes.', 'the unit of the hold point', -1_000_000, 1_000_000),
    ),
    toleranceHigh: optional(
      number('Highest value that passes.', 'the unit of the hold point', -1_000_000, 1_000_000),
    ),
    gustLimitMps: optional(number('Highest gust at the height of the load.', 'metres per second', 0, 100)),
    meanWindLimitMps: optional(
      number('Highest mean wind at the height of the load.', 'metres per second', 0, 100),
    ),
    loadHeightM: optional(number('Height of the load above ground, for the wind there.', 'metres', 0, 200)),
    rainLimitMmPerHour: optional(number('Most rain in the hour.', 'millimetres per hour', 0, 500)),
    temperatureMinC: optional(number('Lowest air temperature.', 'degrees Celsius', -60, 60)),
    temperatureMaxC: optional(number('Highest air temperature.', 'degrees Celsius', -60, 60)),
    dewPointMarginC: optional(
      number('Least margin of the surface over the dew point.', 'degrees Celsius', 0, 30),
    ),
    dryAfterMin: optional(integer('Time that must stay dry after the step.', 'minutes', 0, 10_080)),
    needsDaylight: flag('True when it needs daylight.'),
    mayStopAfter: optional(
      flag(
        'True when work may stop for the night after it: the made-safe, part-built state may stand; empty means no.',
      ),
    ),
    caution: optional(note('What can hurt someone, and what to do about it.')),
  },
  references: [{ columns: ['template', 'dayNumber'], table: 'templateDays' }],
  ascending: [
    ['minHands', 'maxHands'],
    ['toleranceLow', 'toleranceHigh'],
    ['temperatureMinC', 'temperatureMaxC'],
  ],
});

export const stepPrecedence = defineTable({
  name: 'stepPrecedence',
  sheet: 'Step order',
  about:
    'Which step comes after which, with the least and the most time between the end of the one and the start of the other.',
  key: ['template', 'before', 'after'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    before: key('The step that comes first.'),
    after: key('The step that comes later.'),
    minLagMin: integer(
      'Least time from the end of the first to the start of the later one, such as a cure time.',
      'minutes',
      0,
      100_000,
    ),
    maxLagMin: optional(
      integer(
        'Most time between them, such as the open time of a sealant; empty means no limit.',
        'minutes',
        0,
        100_000,
      ),
    ),
  },
  references: [
    { columns: ['template', 'before'], table: 'steps', to: ['template', 'key'] },
    { columns: ['template', 'after'], table: 'steps', to: ['template', 'key'] },
  ],
  ascending: [['minLagMin', 'maxLagMin']],
});

export const stepTickets = defineTable({
  name: 'stepTickets',
  sheet: 'Step tickets',
  about: 'Tickets that must be present for a step.',
  key: ['template', 'step', 'ticket'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    step: key('The step.'),
    ticket: ref('ticketKinds', 'The ticket.'),
    count: integer('Holders who must take part.', 'people', 1, 50),
  },
  references: [{ columns: ['template', 'step'], table: 'steps', to: ['template', 'key'] }],
});

export const stepEquipment = defineTable({
  name: 'stepEquipment',
  sheet: 'Step equipment',
  about: 'Kinds of own equipment that a step uses.',
  key: ['template', 'step', 'equipmentKind'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    step: key('The step.'),
    equipmentKind: ref('equipmentKinds', 'The kind of equipment.'),
  },
  references: [{ columns: ['template', 'step'], table: 'steps', to: ['template', 'key'] }],
});
