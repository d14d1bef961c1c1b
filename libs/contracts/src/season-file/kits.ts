import { choice, flag, integer, key, note, number, optional, ref, text } from './column.ts';
import { defineTable } from './table.ts';
import { visitKinds } from './templates.ts';

export const kits = defineTable({
  name: 'kits',
  sheet: 'Kits',
  about: 'What is built: domes and other weatherproof enclosures.',
  key: ['key'],
  columns: {
    key: key('Short key of the kit.'),
    name: text('Name of the kit.'),
    diameterM: number('Outer diameter.', 'metres', 0, 100),
    heightM: optional(number('Height when built.', 'metres', 0, 100)),
    massKg: number('Mass of the whole kit as delivered.', 'kilograms', 0, 100_000),
    pallets: integer('Pallets that it comes on.', 'pallets', 0, 1000),
    bays: integer('Warehouse bays that it fills.', 'bays', 0, 1000),
    heaviestPartKg: number('Mass of its heaviest part.', 'kilograms', 0, 100_000),
    panelAreaM2: number('Area of its largest panel, which the wind takes hold of.', 'square metres', 0, 1000),
    liftHeightM: optional(number('Height to which the heaviest part is lifted.', 'metres', 0, 100)),
    makeSafeGustMps: optional(
      number(
        'Highest gust at 10 m that a part-built, made-safe shell may stand in; empty means unknown.',
        'metres per second',
        0,
        100,
      ),
    ),
    notes: optional(note('What to know when building it.')),
  },
});

export const kitParts = defineTable({
  name: 'kitParts',
  sheet: 'Kit parts',
  about: 'Parts of a kit that somebody must lift.',
  key: ['kit', 'part'],
  columns: {
    kit: ref('kits', 'The kit.'),
    part: key('Short key of the part within the kit.'),
    name: text('Name of the part.'),
    massKg: number('Mass of one.', 'kilograms', 0, 100_000),
    count: integer('How many the kit has.', 'pieces', 1, 10_000),
    lengthM: optional(number('Length.', 'metres', 0, 100)),
    widthM: optional(number('Width.', 'metres', 0, 100)),
    areaM2: optional(number('Area that the wind takes hold of.', 'square metres', 0, 1000)),
    liftHeightM: optional(number('Height to which it is lifted.', 'metres', 0, 100)),
    gripHeightM: optional(number('Height of the grips when it is picked up.', 'metres', 0, 10)),
    handlesOrGrips: optional(flag('True when it has handles or good grips.')),
  },
});

export const kitTemplates = defineTable({
  name: 'kitTemplates',
  sheet: 'Kit templates',
  about: 'Which build template holds for a kit and a kind of visit.',
  key: ['kit', 'visitKind'],
  columns: {
    kit: ref('kits', 'The kit.'),
    visitKind: choice(visitKinds, 'Kind of visit.'),
    template: ref('buildTemplates', 'The template.'),
  },
});
