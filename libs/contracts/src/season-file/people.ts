import {
  cents,
  choice,
  date,
  email,
  key,
  language,
  latitude,
  longitude,
  note,
  number,
  optional,
  phone,
  ref,
  text,
  weekdays,
  zone,
} from './column.ts';
import { defineTable } from './table.ts';

export const ticketKinds = defineTable({
  name: 'ticketKinds',
  sheet: 'Ticket kinds',
  about: 'Licences and certificates that a visit may ask for.',
  key: ['key'],
  columns: {
    key: key('Short key of the ticket.'),
    name: text('Name of the licence or certificate.'),
    issuer: optional(text('Who issues it.')),
    notes: optional(note('What it allows, and where it is valid.')),
  },
});

export const people = defineTable({
  name: 'people',
  sheet: 'People',
  about: 'Regular members of crews and casual hands.',
  key: ['key'],
  columns: {
    key: key('Short key of the person.'),
    name: text('Name as used on site.'),
    email: optional(email('Mail address.')),
    phoneE164: optional(phone('Telephone number.')),
    language: language('Language for messages.'),
    kind: choice(
      ['regular', 'casual'],
      'A regular hand belongs to a crew; a casual hand is hired by the day.',
    ),
    homeLat: optional(latitude('Latitude of the home (WGS 84).')),
    homeLon: optional(longitude('Longitude of the home (WGS 84).')),
    zone: optional(zone('Time zone of the home; empty means that of the crew base or of the office.')),
    rangeKm: optional(number('Casual hand: how far from home the person works.', 'kilometres', 0, 20_000)),
    dayCents: optional(cents('Casual hand: pay for a day on site.')),
    travelFixedCents: optional(cents('Casual hand: fixed cost of coming to a visit.')),
    travelPerKmCents: optional(cents('Casual hand: cost of each kilometre of the way there and back.')),
    weekdays: optional(
      weekdays('Casual hand: weekdays on which the person can work; empty means all seven.'),
    ),
    notes: optional(note('What the manager should know.')),
  },
});

export const tickets = defineTable({
  name: 'tickets',
  sheet: 'Tickets',
  about: 'Which person holds which ticket, and until when.',
  key: ['person', 'ticket', 'validFrom'],
  columns: {
    person: ref('people', 'Who holds it.'),
    ticket: ref('ticketKinds', 'What is held.'),
    number: optional(text('Number on the ticket.')),
    validFrom: date('First day of validity.'),
    expiresOn: optional(date('Last day of validity; empty means that it does not expire.')),
  },
  ascending: [['validFrom', 'expiresOn']],
});

export const leave = defineTable({
  name: 'leave',
  sheet: 'Leave',
  about: 'Days on which a person is not there.',
  key: ['person', 'fromDay'],
  columns: {
    person: ref('people', 'Who is away.'),
    fromDay: date('First day away.'),
    toDay: date('Last day away.'),
    reason: optional(text('Why; seen by the manager only.')),
  },
  ascending: [['fromDay', 'toDay']],
  noOverlap: { by: ['person'], from: 'fromDay', to: 'toDay' },
});
