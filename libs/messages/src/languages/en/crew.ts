import { button, cautions, facts, list, say, when } from '../../blocks.ts';

const visitFacts = facts(
  { label: 'What', text: '{{term kind visit.kind}}' },
  { label: 'Where', text: '{{visit.siteName}}' },
  { label: 'Address', text: '{{visit.siteAddress}}', when: 'visit.siteAddress' },
  { label: 'When', text: '{{days visit.firstDay visit.lastDay}}' },
  { label: 'Crew', text: '{{visit.crewName}}' },
  { label: 'Lead', text: '{{visit.leadName}}', when: 'visit.leadName' },
  { label: 'With you', text: '{{join visit.mates}}', when: 'visit.mates' },
  { label: 'To build or look after', text: '{{join visit.kits}}', when: 'visit.kits' },
  { label: 'Bring', text: '{{join visit.bring}}', when: 'visit.bring' },
  { label: 'Note', text: '{{visit.note}}', when: 'visit.note' },
);

const visitDays = [
  say('Times on site, in the time of the site:'),
  list(
    'visit.days',
    '{{day this.date}}, {{time this.start}} to {{time this.end}} ({{zone ../visit.zone this.date this.start}}), {{term work this.work}}',
  ),
];

const pleaseAnswer = [
  when(
    'answerBy',
    [say('Please tell us by {{day answerBy}} whether you can come.')],
    [say('Please tell us whether you can come.')],
  ),
  button('Answer', 'links.answer'),
];

export const crew = {
  'crew-assignment': {
    subject: 'Your visit: {{visit.siteName}}, {{day visit.firstDay}}',
    blocks: [
      say('You are down for the visit below.'),
      visitFacts,
      ...visitDays,
      ...pleaseAnswer,
      cautions('visit.hazards'),
    ],
  },
  'crew-assignment-changed': {
    subject: 'Changed: your visit to {{visit.siteName}} is now {{day visit.firstDay}}',
    blocks: [
      say('Your visit has changed. Please go by this message from now on.'),
      facts(
        { label: 'Before', text: '{{before.siteName}}, {{days before.firstDay before.lastDay}}' },
        { label: 'Why', text: '{{reason}}', when: 'reason' },
      ),
      say('This is how it stands now:'),
      visitFacts,
      ...visitDays,
      ...pleaseAnswer,
      cautions('visit.hazards'),
    ],
  },
  'crew-assignment-cancelled': {
    subject: 'Called off: your visit to {{visit.siteName}}, {{day visit.firstDay}}',
    blocks: [
      say('The visit below is called off for you. Please do not travel.'),
      facts(
        { label: 'Where', text: '{{visit.siteName}}' },
        { label: 'When it was to be', text: '{{days visit.firstDay visit.lastDay}}' },
        { label: 'Why', text: '{{reason}}', when: 'reason' },
      ),
      say('If you have booked a bed, a ferry or a flight for it, please tell us now.'),
    ],
  },
  'crew-reminder': {
    subject: 'Reminder: {{visit.siteName}}, {{day visit.firstDay}}',
    blocks: [
      when(
        'answered',
        [say('Your visit is coming up. Here it is once more.')],
        [say('We have not yet heard whether you can come to the visit below.')],
      ),
      visitFacts,
      ...visitDays,
      when(
        'answered',
        [
          say('If anything has changed for you, please tell us now.'),
          button('Change your answer', 'links.answer'),
        ],
        pleaseAnswer,
      ),
      cautions('visit.hazards'),
    ],
  },
} as const;
