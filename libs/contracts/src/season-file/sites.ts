import {
  choice,
  date,
  flag,
  integer,
  key,
  latitude,
  longitude,
  note,
  number,
  optional,
  ref,
  text,
  zone,
} from './column.ts';
import { defineTable } from './table.ts';

export const sites = defineTable({
  name: 'sites',
  sheet: 'Sites',
  about: 'Where kits are built.',
  key: ['key'],
  columns: {
    key: key('Short key of the site; not also used by a place or a warehouse.'),
    name: text('Name of the site.'),
    customer: ref('customers', 'Who owns the site.'),
    lat: latitude('Latitude (WGS 84).'),
    lon: longitude('Longitude (WGS 84).'),
    elevationM: optional(number('Height above sea level.', 'metres', -500, 9000)),
    zone: zone('Time zone of the site; all local times of its visits are read in it.'),
    address: optional(text('Postal address.', 500)),
    accessNotes: optional(note('How to get in: gates, keys, hours, whom to call.')),
    gateWidthM: optional(number('Narrowest width on the way in.', 'metres', 0, 100)),
    slopePct: optional(number('Slope of the ground where a machine would stand.', 'percent', 0, 100)),
    groundKind: optional(
      choice(
        ['sealed', 'gravel', 'firmSoil', 'softSoil', 'sand', 'rock', 'unknown'],
        'What a machine would stand on.',
      ),
    ),
    overheadLines: choice(
      ['yes', 'no', 'unknown'],
      'Power lines over or near the work; unknown never counts as no.',
    ),
    forkliftOnSite: choice(
      ['yes', 'no', 'unknown'],
      'A forklift that can work there safely; unknown never counts as yes.',
    ),
    foundationKind: choice(['pad', 'deck'], 'Pad on the ground, or deck with an isolated pier.'),
    obstructions: optional(note('What stands in the way: trees, walls, buried services.')),
    workNearChildren: optional(
      flag('True when the work is at a place for children: checks may be asked for.'),
    ),
    siteStorageDays: integer('Days that goods may lie on the site before the visit.', 'days', 0, 366),
    weatherArea: optional(
      ref('weatherAreas', 'Area whose monthly weather holds here; empty means that none is known.'),
    ),
    weatherStation: optional(ref('weatherStations', 'Station whose hourly record stands for this site.')),
  },
});

export const siteClosedDays = defineTable({
  name: 'siteClosedDays',
  sheet: 'Site closed days',
  about: 'Days on which a site may not be worked on.',
  key: ['site', 'fromDay'],
  columns: {
    site: ref('sites', 'The site.'),
    fromDay: date('First closed day.'),
    toDay: date('Last closed day.'),
    reason: optional(text('Why it is closed, such as exams.')),
  },
  ascending: [['fromDay', 'toDay']],
});
