import { cents, choice, date, flag, integer, key, number, optional, ref, text, weekdays } from './column.ts';
import { defineTable } from './table.ts';

export const crews = defineTable({
  name: 'crews',
  sheet: 'Crews',
  about: 'Crews: people who travel and build together.',
  key: ['key'],
  columns: {
    key: key('Short key of the crew.'),
    name: text('Name of the crew.'),
    base: ref('places', 'Where the crew starts from and comes home to.'),
    weekdays: weekdays('Weekdays on which the crew works.'),
    dayCents: cents('Cost of the crew for a day on site.'),
    standbyDayCents: cents('Cost of a day on which the crew waits for weather.'),
    perKmCents: cents('Cost of each kilometre driven.'),
    nightPerHeadCents: cents('Cost of a night away for each head.'),
    maxNightsAway: integer('Nights in a row that the crew may be away.', 'nights', 0, 366),
    sameDayDriveMin: integer(
      'Driving that still fits before or after work on the same day.',
      'minutes',
      0,
      720,
    ),
    driveMinPerDay: integer('Driving that fits in a travel day.', 'minutes', 1, 900),
  },
});

export const crewMembers = defineTable({
  name: 'crewMembers',
  sheet: 'Crew members',
  about: 'Who belongs to which crew, from when to when. A person is in one crew at a time.',
  key: ['crew', 'person', 'fromDay'],
  columns: {
    crew: ref('crews', 'The crew.'),
    person: ref('people', 'The person.'),
    role: choice(['lead', 'hand', 'trainee'], 'A trainee does not count as a hand.'),
    fromDay: date('First day in the crew.'),
    toDay: optional(date('Last day in the crew; empty means open.')),
  },
  ascending: [['fromDay', 'toDay']],
  noOverlap: { by: ['person'], from: 'fromDay', to: 'toDay' },
});

export const crewClosedDays = defineTable({
  name: 'crewClosedDays',
  sheet: 'Crew closed days',
  about: 'Holidays and other days on which a whole crew does not work.',
  key: ['crew', 'fromDay'],
  columns: {
    crew: ref('crews', 'The crew.'),
    fromDay: date('First day off.'),
    toDay: date('Last day off.'),
    reason: optional(text('Name of the holiday or the reason.')),
  },
  ascending: [['fromDay', 'toDay']],
});

export const vehicles = defineTable({
  name: 'vehicles',
  sheet: 'Vehicles',
  about: 'Vehicles of crews.',
  key: ['key'],
  columns: {
    key: key('Short key of the vehicle.'),
    name: text('Name or number plate.'),
    crew: optional(ref('crews', 'The crew that uses it; empty means shared.')),
    payloadKg: number('Load that it may carry.', 'kilograms', 0, 60_000),
    seats: integer('Seats with a belt, driver included.', 'seats', 1, 60),
    hasCrane: flag('True when it can unload itself.'),
  },
});
