import {
  cents,
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
  weekdays,
  zone,
} from './column.ts';
import { defineTable } from './table.ts';

export const places = defineTable({
  name: 'places',
  sheet: 'Places',
  about: 'Bases of crews, homes of equipment and other places that people leave from.',
  key: ['key'],
  columns: {
    key: key('Short key of the place; not also used by a warehouse or a site.'),
    name: text('Name of the place.'),
    lat: latitude('Latitude (WGS 84).'),
    lon: longitude('Longitude (WGS 84).'),
    zone: zone('Time zone of the place.'),
    address: optional(text('Postal address.', 500)),
  },
});

export const warehouses = defineTable({
  name: 'warehouses',
  sheet: 'Warehouses',
  about: 'Where goods wait between the port and the site.',
  key: ['key'],
  columns: {
    key: key('Short key of the warehouse; not also used by a place or a site.'),
    name: text('Name of the warehouse.'),
    lat: latitude('Latitude (WGS 84).'),
    lon: longitude('Longitude (WGS 84).'),
    zone: zone('Time zone of the warehouse.'),
    address: optional(text('Postal address.', 500)),
    bays: integer('Bays that the firm has inside.', 'bays', 0, 100_000),
    bayDayCents: cents('Cost of one bay inside for one day.'),
    overflowBayDayCents: cents('Cost of one bay for one day once the own bays are full.'),
    weekdays: weekdays('Weekdays on which goods can leave.'),
    deliveryLeadDays: integer('Days from leaving the warehouse to being on the site.', 'days', 0, 60),
  },
});

export const warehouseClosedDays = defineTable({
  name: 'warehouseClosedDays',
  sheet: 'Warehouse closed days',
  about: 'Days on which a warehouse gives out nothing, beyond its weekdays.',
  key: ['warehouse', 'fromDay'],
  columns: {
    warehouse: ref('warehouses', 'The warehouse.'),
    fromDay: date('First closed day.'),
    toDay: date('Last closed day.'),
    reason: optional(text('Why it is closed.')),
  },
  ascending: [['fromDay', 'toDay']],
});

export const travelOverrides = defineTable({
  name: 'travelOverrides',
  sheet: 'Travel',
  about:
    'Known ways between two places, where the estimate from the map would be wrong. Holds in both directions unless both are given.',
  key: ['fromPlace', 'toPlace'],
  columns: {
    fromPlace: ref(['places', 'warehouses', 'sites'], 'Where the way begins.'),
    toPlace: ref(['places', 'warehouses', 'sites'], 'Where the way ends.'),
    km: number('Length of the way.', 'kilometres', 0, 20_000),
    driveMin: integer('Time at the wheel, without rests.', 'minutes', 0, 20_000),
    waitMin: optional(integer('Waiting that is not driving, such as a ferry.', 'minutes', 0, 20_000)),
    source: text('Where the figures come from.'),
    notes: optional(note('What to know about the way.')),
  },
});
