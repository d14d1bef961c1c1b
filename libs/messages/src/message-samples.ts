import type { TemplateData, TemplateId, TemplateLinks } from './template-registry.ts';

/** One filled-in example of each message, for tests and previews. All people, firms and places are invented. */
export type MessageSamples = {
  readonly [Id in TemplateId]: { data: TemplateData<Id>; links: TemplateLinks<Id> };
};

const firm = { name: 'Larch & Loon Domes', phone: '+1 709 555 0142', mail: 'plan@larchandloon.test' };
const crewBase = { firm, to: { name: 'Robin Alder' } };
const customerBase = { firm, to: { name: 'Signal Ridge School' } };
const partnerBase = { firm, to: { name: 'Tamarack Lifts' } };
const answer = { answer: 'https://plan.larchandloon.test/a/k3J-9_x' };

const crewVisit: TemplateData<'crew-assignment'>['visit'] = {
  kind: 'build',
  siteName: 'Signal Ridge School',
  siteAddress: '3 Hill Road, Signal Ridge',
  zone: 'America/St_Johns',
  days: [
    { date: '2026-06-09', start: '07:30', end: '16:30', work: 'outside' },
    { date: '2026-06-10', start: '08:00', end: '15:00', work: 'inside' },
  ],
  kits: ['4.6 m dome'],
  crewName: 'East crew',
  leadName: 'Sam Birch',
  mates: ['Sam Birch', 'Kit Rowan'],
  bring: ['levelling set', 'sealing set'],
  note: 'The gate opens at 7.\nAsk for the caretaker.',
  hazards: ['fatigue'],
};

const arrival: TemplateData<'arrival-notice'>['visit'] = {
  kind: 'build',
  siteName: 'Signal Ridge School',
  siteAddress: '3 Hill Road, Signal Ridge',
  zone: 'America/St_Johns',
  firstDay: '2026-06-09',
  lastDay: '2026-06-10',
  arriveFrom: '07:00',
  arriveTo: '08:30',
  people: 3,
  leadName: 'Sam Birch',
  leadPhone: '+1 709 555 0177',
  mayMoveForWeather: true,
  ready: [
    { what: 'Pad finished and level', by: '2026-05-29' },
    { what: 'Power on at the pad', by: '2026-06-05' },
  ],
  note: 'We need a place for a van and a trailer.',
  hazards: [],
};

const before = { siteName: 'Signal Ridge School', firstDay: '2026-06-02', lastDay: '2026-06-03' };
const calledOff = { visit: before, reason: 'The container is held at the port.' };
const items: TemplateData<'site-preparation'>['items'] = [
  { what: 'Pad finished and level', by: '2026-05-29', proof: 'measurement', overdue: true },
  { what: 'Power on at the pad', by: '2026-06-05', proof: 'photo', overdue: false },
];

export const messageSamples: MessageSamples = {
  'crew-assignment': { data: { ...crewBase, visit: crewVisit, answerBy: '2026-05-20' }, links: answer },
  'crew-assignment-changed': {
    data: {
      ...crewBase,
      visit: crewVisit,
      before,
      reason: 'The container is held at the port.',
      answerBy: '2026-05-20',
    },
    links: answer,
  },
  'crew-assignment-cancelled': { data: { ...crewBase, ...calledOff }, links: {} },
  'crew-reminder': {
    data: { ...crewBase, visit: crewVisit, answered: false, answerBy: '2026-05-20' },
    links: answer,
  },
  'arrival-notice': { data: { ...customerBase, visit: arrival, answerBy: '2026-05-20' }, links: answer },
  'arrival-changed': {
    data: {
      ...customerBase,
      visit: arrival,
      before,
      reason: 'The container is held at the port.',
      answerBy: '2026-05-20',
    },
    links: answer,
  },
  'arrival-cancelled': { data: { ...customerBase, ...calledOff }, links: {} },
  'site-preparation': {
    data: { ...customerBase, siteName: 'Signal Ridge School', visitFirstDay: '2026-06-09', items },
    links: answer,
  },
  'site-preparation-reminder': {
    data: { ...customerBase, siteName: 'Signal Ridge School', visitFirstDay: '2026-06-09', items },
    links: answer,
  },
  'lift-request': {
    data: {
      ...partnerBase,
      lift: {
        kind: 'crane truck',
        siteName: 'Signal Ridge School',
        siteAddress: '3 Hill Road, Signal Ridge',
        zone: 'America/St_Johns',
        firstDay: '2026-06-09',
        lastDay: '2026-06-09',
        startTime: '09:00',
        heaviestKg: 1240,
        radiusM: 8.5,
        hookHeightM: null,
        gustLimitMps: 9,
        withOperator: true,
        ground: 'gravel, level',
        note: 'A power line crosses the drive.',
      },
      answerBy: '2026-05-20',
    },
    links: answer,
  },
  'lift-request-cancelled': {
    data: { ...partnerBase, lift: { ...before, kind: 'crane truck' }, reason: 'The date has moved.' },
    links: {},
  },
  'delivery-request': {
    data: {
      ...partnerBase,
      delivery: {
        goods: [{ what: 'Dome kit on a pallet', pieces: 1, massKg: 1240, longestM: 3.2 }],
        collectFrom: 'Harbour warehouse, bay 4',
        siteName: 'Signal Ridge School',
        siteAddress: '3 Hill Road, Signal Ridge',
        zone: 'America/St_Johns',
        arriveOn: '2026-06-08',
        arriveFrom: '08:00',
        arriveTo: '12:00',
        unloading: 'with the truck’s own crane',
        access: 'by the lower gate, 3.5 m wide',
        contactName: 'The caretaker',
        contactPhone: '+1 709 555 0188',
        note: 'Please ring half an hour before.',
      },
      answerBy: '2026-05-20',
    },
    links: answer,
  },
  'delivery-request-cancelled': {
    data: {
      ...partnerBase,
      delivery: { siteName: 'Signal Ridge School', arriveOn: '2026-06-08', goods: 'Dome kit on a pallet' },
      reason: 'The date has moved.',
    },
    links: {},
  },
  'partner-reminder': {
    data: {
      ...partnerBase,
      about: 'lift',
      summary: 'crane truck, one day',
      siteName: 'Signal Ridge School',
      neededOn: '2026-06-09',
      startTime: '09:00',
      zone: 'America/St_Johns',
      answerBy: '2026-05-20',
    },
    links: answer,
  },
  'morning-brief': {
    data: {
      firm,
      to: { name: 'Sam Birch' },
      brief: {
        advice: 'hold',
        turnedFrom: 'go',
        siteName: 'Signal Ridge School',
        title: 'Dome for the school roof',
        date: '2026-06-09',
        zone: 'America/St_Johns',
        crew: 'East crew',
        shiftFrom: '07:30',
        shiftTo: '17:30',
        odds: { chance: '23 %', from: 'blend' },
        runs: { good: 6, known: 30, unknown: 1 },
        weight: { share: '90 %', basis: 'default' },
        records: { share: '61 %', years: 20 },
        failedStart: { sum: 'CAD 4,120.00', missing: ['truck'] },
        holding: { sum: 'CAD 1,980.00', missing: ['casual-hands'] },
        rule: { failChance: '77 %', ratio: '48 %' },
        reasons: ['fail-chance-above-ratio', 'failed-start-cost-unknown'],
        deadline: {
          by: { at: '2026-06-08T19:30:00Z', zone: 'America/St_Johns' },
          what: 'Crane, one day',
          past: false,
        },
        deadlinesUnknown: ['Beds of 2026-06-08'],
        limits: [
          {
            limit: 'gustMps',
            allowed: '9',
            middle: '13.2',
            worst: '17.8',
            from: '10:00',
            hours: '6',
            members: 24,
            ofMembers: 31,
          },
        ],
        thunderFrom: '15:00',
        latestStart: '08:10',
        sunrise: '05:02',
        sunset: '20:54',
        forecast: {
          source: 'An open forecast service',
          issued: { at: '2026-06-08T12:00:00Z', zone: 'America/St_Johns' },
          old: true,
        },
        noForecastSince: { at: '2026-06-08T12:20:00Z', zone: 'America/St_Johns' },
        neverForecast: true,
        forecastFault: 'The service answered 503.',
        unknown: ['The forecast does not speak of thunder.'],
      },
    },
    links: { open: 'https://plan.larchandloon.test/' },
  },
  'sign-in-link': {
    data: {
      firm,
      to: { name: 'Ash Tern' },
      expires: { at: '2026-05-01T12:15:00Z', zone: 'America/St_Johns' },
    },
    links: { signIn: 'https://plan.larchandloon.test/in/Zx81-_' },
  },
  'answer-received': {
    data: {
      firm,
      to: { name: 'Ash Tern' },
      who: 'Robin Alder',
      role: 'crew',
      about: 'build at Signal Ridge School, 9 June',
      answer: 'other-date',
      proposedDay: '2026-06-11',
      note: 'I am back on the 11th.',
      received: { at: '2026-05-01T12:15:00Z', zone: 'America/St_Johns' },
    },
    links: { open: 'https://plan.larchandloon.test/answers/7' },
  },
};
