import { button, cautions, facts, list, say, when } from '../../blocks.ts';

const arrivalFacts = facts(
  { label: 'What', text: '{{term kind visit.kind}}' },
  { label: 'Where', text: '{{visit.siteName}}' },
  { label: 'Address', text: '{{visit.siteAddress}}', when: 'visit.siteAddress' },
  { label: 'When', text: '{{days visit.firstDay visit.lastDay}}' },
  {
    label: 'We arrive',
    text: '{{day visit.firstDay}}, between {{time visit.arriveFrom}} and {{time visit.arriveTo}} ({{zone visit.zone visit.firstDay visit.arriveFrom}})',
  },
  { label: 'People', text: '{{visit.people}}' },
  { label: 'Crew lead', text: '{{visit.leadName}}', when: 'visit.leadName' },
  { label: 'Their phone', text: '{{visit.leadPhone}}', when: 'visit.leadPhone' },
  { label: 'Note', text: '{{visit.note}}', when: 'visit.note' },
);

const readyList = when('visit.ready', [
  say('Please have these ready, each by the day beside it:'),
  list('visit.ready', '{{this.what}}: by {{day this.by}}'),
]);

const weatherWords = when('visit.mayMoveForWeather', [
  say(
    'Part of the work is outside and needs a dry, calm day. If the forecast turns, we tell you as early as we can and offer another day.',
  ),
]);

const pleaseConfirm = [
  when(
    'answerBy',
    [say('Please tell us by {{day answerBy}} whether this suits you.')],
    [say('Please tell us whether this suits you.')],
  ),
  button('Answer', 'links.answer'),
];

const preparationFacts = facts(
  { label: 'Where', text: '{{siteName}}' },
  { label: 'We plan to come on', text: '{{day visitFirstDay}}', when: 'visitFirstDay' },
);

export const customer = {
  'arrival-notice': {
    subject: 'We come to {{visit.siteName}} on {{day visit.firstDay}}',
    blocks: [
      say('We look forward to working at your site. This is the plan:'),
      arrivalFacts,
      readyList,
      weatherWords,
      ...pleaseConfirm,
      cautions('visit.hazards'),
    ],
  },
  'arrival-changed': {
    subject: 'New date: we come to {{visit.siteName}} on {{day visit.firstDay}}',
    blocks: [
      say(
        'We have had to change the date. We are sorry for the trouble. Please go by this message from now on.',
      ),
      facts(
        { label: 'Before', text: '{{before.siteName}}, {{days before.firstDay before.lastDay}}' },
        { label: 'Why', text: '{{reason}}', when: 'reason' },
      ),
      say('This is the plan now:'),
      arrivalFacts,
      readyList,
      weatherWords,
      ...pleaseConfirm,
      cautions('visit.hazards'),
    ],
  },
  'arrival-cancelled': {
    subject: 'We do not come to {{visit.siteName}} on {{day visit.firstDay}}',
    blocks: [
      say(
        'We have had to call off the visit below. We are sorry for the trouble, and will write to you with a new date.',
      ),
      facts(
        { label: 'Where', text: '{{visit.siteName}}' },
        { label: 'When it was to be', text: '{{days visit.firstDay visit.lastDay}}' },
        { label: 'Why', text: '{{reason}}', when: 'reason' },
      ),
    ],
  },
  'site-preparation': {
    subject: 'What to have ready at {{siteName}}',
    blocks: [
      say(
        'Before we can build, a few things must be ready at your site. We can only fix our date once they are.',
      ),
      preparationFacts,
      list('items', '{{this.what}}: by {{day this.by}} ({{term proof this.proof}})'),
      say(
        'The link below shows the list and takes your answers. Please send photos and papers as a reply to this message.',
      ),
      button('Show what is ready', 'links.answer'),
    ],
  },
  'site-preparation-reminder': {
    subject: 'Still to do at {{siteName}}',
    blocks: [
      say('These points are still open at your site. Without them we may have to move our visit.'),
      preparationFacts,
      when('overdueItems', [
        say('Past their day:'),
        list('overdueItems', '{{this.what}}: was due by {{day this.by}} ({{term proof this.proof}})'),
      ]),
      when('openItems', [
        say('Still to come:'),
        list('openItems', '{{this.what}}: by {{day this.by}} ({{term proof this.proof}})'),
      ]),
      say(
        'If a point is done already, please show it through the link. If one cannot be done in time, tell us there too.',
      ),
      button('Show what is ready', 'links.answer'),
    ],
  },
} as const;
