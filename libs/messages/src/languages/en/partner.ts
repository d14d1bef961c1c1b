import { button, cautions, facts, list, say, when } from '../../blocks.ts';

const pleaseAnswer = [
  when(
    'answerBy',
    [say('Please answer by {{day answerBy}}: yes, no, or another date.')],
    [say('Please answer: yes, no, or another date.')],
  ),
  button('Answer', 'links.answer'),
];

export const partner = {
  'lift-request': {
    subject: 'Lift needed: {{lift.kind}}, {{lift.siteName}}, {{day lift.firstDay}}',
    blocks: [
      say('We would like to hire the lift below from you.'),
      facts(
        { label: 'Lift', text: '{{lift.kind}}' },
        { label: 'Where', text: '{{lift.siteName}}' },
        { label: 'Address', text: '{{lift.siteAddress}}', when: 'lift.siteAddress' },
        { label: 'When', text: '{{days lift.firstDay lift.lastDay}}' },
        {
          label: 'Ready to work at',
          text: '{{time lift.startTime}} ({{zone lift.zone lift.firstDay lift.startTime}})',
        },
        { label: 'Heaviest piece', text: '{{number lift.heaviestKg}} kg' },
        { label: 'Reach from the machine', text: '{{known metres lift.radiusM}}' },
        { label: 'Hook height', text: '{{known metres lift.hookHeightM}}' },
        { label: 'Gust at which we stop', text: '{{known gust lift.gustLimitMps}}' },
        { label: 'Ground', text: '{{lift.ground}}', when: 'lift.ground' },
        { label: 'Note', text: '{{lift.note}}', when: 'lift.note' },
      ),
      when(
        'lift.withOperator',
        [say('Please send an operator who holds the ticket that the law asks for.')],
        [say('Our own ticket holder will work the lift; please tell us which ticket you need to see.')],
      ),
      ...pleaseAnswer,
      say(
        'Please check our figures against the load chart of the machine that you send, and tell us if it does not fit.',
      ),
      cautions('hazards'),
    ],
  },
  'lift-request-cancelled': {
    subject: 'Called off: {{lift.kind}}, {{lift.siteName}}, {{day lift.firstDay}}',
    blocks: [
      say('We no longer need the lift below. Please tell us today if this costs us anything.'),
      facts(
        { label: 'Lift', text: '{{lift.kind}}' },
        { label: 'Where', text: '{{lift.siteName}}' },
        { label: 'When it was to be', text: '{{days lift.firstDay lift.lastDay}}' },
        { label: 'Why', text: '{{reason}}', when: 'reason' },
      ),
    ],
  },
  'delivery-request': {
    subject: 'Delivery needed: {{delivery.siteName}}, {{day delivery.arriveOn}}',
    blocks: [
      say('We would like you to bring the goods below.'),
      facts(
        { label: 'Collect from', text: '{{delivery.collectFrom}}' },
        { label: 'Bring to', text: '{{delivery.siteName}}' },
        { label: 'Address', text: '{{delivery.siteAddress}}', when: 'delivery.siteAddress' },
        {
          label: 'Arrive',
          text: '{{day delivery.arriveOn}}, between {{time delivery.arriveFrom}} and {{time delivery.arriveTo}} ({{zone delivery.zone delivery.arriveOn delivery.arriveFrom}})',
        },
        { label: 'Unloading', text: '{{delivery.unloading}}' },
        { label: 'Way in', text: '{{delivery.access}}', when: 'delivery.access' },
        { label: 'On site', text: '{{delivery.contactName}}', when: 'delivery.contactName' },
        { label: 'Their phone', text: '{{delivery.contactPhone}}', when: 'delivery.contactPhone' },
        { label: 'Note', text: '{{delivery.note}}', when: 'delivery.note' },
      ),
      say('Goods:'),
      list(
        'delivery.goods',
        '{{this.what}} (pieces: {{this.pieces}}, {{number this.massKg}} kg in all, {{known longest this.longestM}})',
      ),
      ...pleaseAnswer,
      cautions('hazards'),
    ],
  },
  'delivery-request-cancelled': {
    subject: 'Called off: delivery to {{delivery.siteName}}, {{day delivery.arriveOn}}',
    blocks: [
      say('We no longer need the delivery below. Please tell us today if this costs us anything.'),
      facts(
        { label: 'Goods', text: '{{delivery.goods}}' },
        { label: 'Where', text: '{{delivery.siteName}}' },
        { label: 'When it was to be', text: '{{day delivery.arriveOn}}' },
        { label: 'Why', text: '{{reason}}', when: 'reason' },
      ),
    ],
  },
  'partner-reminder': {
    subject: 'Your answer, please: {{term about about}} for {{siteName}}, {{day neededOn}}',
    blocks: [
      say('We have not yet heard from you about this:'),
      facts(
        { label: 'What', text: '{{summary}}' },
        { label: 'Where', text: '{{siteName}}' },
        { label: 'When', text: '{{day neededOn}}' },
      ),
      when('startTime', [say('Start: {{time startTime}} ({{zone zone neededOn startTime}})')]),
      ...pleaseAnswer,
      cautions('hazards'),
    ],
  },
} as const;
