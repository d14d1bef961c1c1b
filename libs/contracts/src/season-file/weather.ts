import { integer, key, latitude, longitude, number, optional, ref, share, text, zone } from './column.ts';
import { defineTable } from './table.ts';

export const weatherStations = defineTable({
  name: 'weatherStations',
  sheet: 'Weather stations',
  about: 'Stations whose records stand for the weather of sites.',
  key: ['key'],
  columns: {
    key: key('Short key of the station.'),
    name: text('Name of the station.'),
    lat: latitude('Latitude (WGS 84).'),
    lon: longitude('Longitude (WGS 84).'),
    zone: zone('Time zone of the station.'),
    elevationM: optional(number('Height above sea level.', 'metres', -500, 9000)),
    source: optional(text('Who keeps the record, and under which licence.', 500)),
  },
});

export const weatherAreas = defineTable({
  name: 'weatherAreas',
  sheet: 'Weather areas',
  about: 'Areas with one monthly weather table; sites without an hourly record name the area they lie in.',
  key: ['key'],
  columns: {
    key: key('Short key of the area.'),
    name: text('Name of the area.'),
    station: optional(ref('weatherStations', 'The station that the figures come from.')),
  },
});

export const weatherMonths = defineTable({
  name: 'weatherMonths',
  sheet: 'Weather by month',
  about: 'Monthly weather of an area: twelve rows each.',
  key: ['area', 'month'],
  columns: {
    area: ref('weatherAreas', 'The area.'),
    month: integer('Month of the year, 1 = January.', null, 1, 12),
    wetDayShare: share('Share of days too wet for outside work.'),
    wetAfterWet: share('Chance that the day after a wet one is wet too.'),
    windyDayShare: optional(
      share('Share of days too windy for outside work; empty means unknown, never zero.'),
    ),
    coldDayShare: optional(
      share('Share of days too cold for outside work; empty means unknown, never zero.'),
    ),
    meanTempC: optional(number('Mean air temperature.', 'degrees Celsius', -60, 60)),
    meanWindMps: optional(number('Mean wind at 10 m.', 'metres per second', 0, 60)),
    rainMmPerMonth: optional(number('Mean precipitation of the month.', 'millimetres', 0, 3000)),
    source: text('Where the figures come from.', 500),
  },
});
