import {
  cents,
  currency,
  date,
  flag,
  integer,
  key,
  note,
  number,
  optional,
  share,
  text,
  time,
  zone,
} from './column.ts';
import { defineTable } from './table.ts';

/** The one row that says which season this is, for whom, and the rates that hold for all of it. */
export const season = defineTable({
  name: 'season',
  sheet: 'Season',
  about: 'The season itself: one row.',
  key: ['key'],
  columns: {
    key: key('Short key of the season.'),
    name: text('Name of the season.'),
    organisationName: text('Name of the firm.'),
    zone: zone('Time zone of the office: quiet hours and office times are read in it.'),
    isDemo: flag('True when all firms, people and sites in the file are invented.'),
    firstDay: date('First day on which a visit may be planned.'),
    lastDay: date('Last day on which a visit may be planned.'),
    currency: currency('Currency of all amounts.'),
    asOfDay: optional(date('The day that the season is looked at from; empty means today.')),
    frozenUntil: optional(date('Visits that start up to and including this day stay as they are published.')),
    goodsConfidence: share('Chance that the goods are there on the day that is planned with.'),
    reserveConfidence: share('Chance that the lost days of a visit fit in its reserve days.'),
    movedCents: cents('Disturbance: cost of moving a published visit at all.'),
    movedPerDayCents: cents('Disturbance: cost of each day by which a published visit moves.'),
    crewChangedCents: cents('Disturbance: cost of giving a published visit to another crew.'),
    nearDays: integer('A published visit that starts within this many days counts as near.', 'days', 1, 366),
    nearFactor: number(
      'Extra weight of moving a visit that was to start today; 1 doubles the cost.',
      null,
      0,
      1000,
    ),
    workdayStart: optional(time('Local time at which a site day starts; empty means 08:00.')),
    briefTime: optional(
      time(
        'Local time of the site at which the weather brief of the day before goes out; empty means 16:00.',
      ),
    ),
    hoursFromMonths: optional(
      flag(
        'True when a site without an hourly record is planned from made-up hours with the monthly figures of its weather area, held against the limits of each step; else from the monthly shares alone.',
      ),
    ),
    quietFrom: optional(time('No message leaves after this local time of the person who gets it.')),
    quietTo: optional(time('No message leaves before this local time of the person who gets it.')),
    notes: optional(note('Anything a reader should know about the season.')),
  },
  ascending: [['firstDay', 'lastDay']],
});
