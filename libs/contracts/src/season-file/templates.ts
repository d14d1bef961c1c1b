import { choice, flag, integer, key, number, optional, ref, text } from './column.ts';
import { defineTable } from './table.ts';

export const visitKinds = ['survey', 'build', 'return', 'service'] as const;

export const buildTemplates = defineTable({
  name: 'buildTemplates',
  sheet: 'Build templates',
  about: 'Visit patterns: the site days of a visit and what they need.',
  key: ['key'],
  columns: {
    key: key('Short key of the template.'),
    name: text('Name of the template.'),
    visitKind: choice(visitKinds, 'Kind of visit that it describes.'),
    maxGapDays: integer(
      "Longest gap of the crew's days off that may lie before an inside day.",
      'days',
      0,
      30,
    ),
  },
});

export const templateDays = defineTable({
  name: 'templateDays',
  sheet: 'Template days',
  about: 'The site days of a template, numbered from 1.',
  key: ['template', 'dayNumber'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    dayNumber: integer('Number of the day within the visit.', null, 1, 30),
    outside: flag('True when the work of the day needs a workable window outdoors.'),
    hours: number('Work on the day.', 'hours', 0.25, 16),
    hands: integer('People needed on the day; trainees do not count.', 'people', 1, 50),
    liftType: optional(ref('liftTypes', 'Type of lift that must stand there; empty means none.')),
  },
});

export const templateDayTickets = defineTable({
  name: 'templateDayTickets',
  sheet: 'Template day tickets',
  about: 'Tickets that must be present on a site day, and how many holders.',
  key: ['template', 'dayNumber', 'ticket'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    dayNumber: integer('Number of the day within the visit.', null, 1, 30),
    ticket: ref('ticketKinds', 'The ticket.'),
    count: integer('Holders who must be there.', 'people', 1, 50),
  },
  references: [{ columns: ['template', 'dayNumber'], table: 'templateDays' }],
});

export const templateEquipment = defineTable({
  name: 'templateEquipment',
  sheet: 'Template equipment',
  about: 'Kinds of own equipment that a visit needs; the units are held for the whole stay.',
  key: ['template', 'equipmentKind'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    equipmentKind: ref('equipmentKinds', 'The kind of equipment.'),
    count: optional(integer('Units of it that are needed; empty means one.', 'units', 1, 20)),
  },
});

export const readinessTemplates = defineTable({
  name: 'readinessTemplates',
  sheet: 'Readiness templates',
  about: 'Readiness items that a new job of a template starts with.',
  key: ['template', 'key'],
  columns: {
    template: ref('buildTemplates', 'The template.'),
    key: key('Short key of the item within the template.'),
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
  },
  ascending: [['toleranceLow', 'toleranceHigh']],
});
