import { cents, choice, date, instant, key, optional, ref, text } from './column.ts';
import { defineTable } from './table.ts';

export const bookings = defineTable({
  name: 'bookings',
  sheet: 'Bookings',
  about: 'Beds, ferries and flights, which can be called off only until a time.',
  key: ['key'],
  columns: {
    key: key('Short key of the booking.'),
    job: optional(ref('jobs', 'The job that it is for.')),
    crew: optional(ref('crews', 'The crew that it is for, when it is not for one job.')),
    kind: choice(['bed', 'ferry', 'flight'], 'What is booked.'),
    partner: optional(ref('partners', 'Where it is booked.')),
    fromDay: date('First night or day of travel.'),
    toDay: date('Last night or day of travel.'),
    state: choice(['needed', 'asked', 'confirmed', 'off'], 'How far it is agreed.'),
    cancelUntil: optional(instant('Last moment at which it can be called off without the fee.')),
    feeCents: optional(cents('Cost of calling it off later.')),
    reference: optional(text('Reference of the booking.')),
  },
  ascending: [['fromDay', 'toDay']],
  exactlyOneOf: [['job', 'crew']],
});
