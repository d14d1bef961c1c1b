import { date, flag, key, optional, ref, text } from './column.ts';
import { defineTable } from './table.ts';

export const equipmentKinds = defineTable({
  name: 'equipmentKinds',
  sheet: 'Equipment kinds',
  about: 'Kinds of own equipment that exist once or a few times.',
  key: ['key'],
  columns: {
    key: key('Short key of the kind.'),
    name: text('Name of the kind, such as levelling and sealing set.'),
  },
});

export const equipmentUnits = defineTable({
  name: 'equipmentUnits',
  sheet: 'Equipment units',
  about: 'Own equipment that travels with a crew.',
  key: ['key'],
  columns: {
    key: key('Short key of the unit.'),
    kind: ref('equipmentKinds', 'Its kind.'),
    name: text('Name of the unit.'),
    base: ref('places', 'Where it is kept.'),
    needsInspection: flag('True when it may be used only while an inspection holds.'),
    inspectedUntil: optional(date('Last day on which the inspection holds; empty means that none is known.')),
  },
});

export const equipmentUnavailable = defineTable({
  name: 'equipmentUnavailable',
  sheet: 'Equipment away',
  about: 'Days on which a unit cannot be used.',
  key: ['unit', 'fromDay'],
  columns: {
    unit: ref('equipmentUnits', 'The unit.'),
    fromDay: date('First day away.'),
    toDay: date('Last day away.'),
    reason: optional(text('Why, such as repair.')),
  },
  ascending: [['fromDay', 'toDay']],
});
