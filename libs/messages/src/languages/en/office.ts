import { button, facts, say, when } from '../../blocks.ts';

export const office = {
  'sign-in-link': {
    subject: 'Sign in to {{firm.name}}',
    blocks: [
      say('Use this link to sign in. It works once, until {{moment expires}}.'),
      button('Sign in', 'links.signIn'),
      say(
        'If you did not ask for it, you need do nothing: without the link nobody gets in. Do not pass it on.',
      ),
    ],
  },
  'answer-received': {
    subject: '{{term answer answer}}: {{who}}, {{about}}',
    blocks: [
      say('An answer has come in.'),
      facts(
        { label: 'From', text: '{{who}} ({{term role role}})' },
        { label: 'About', text: '{{about}}' },
        { label: 'Answer', text: '{{term answer answer}}' },
        { label: 'Proposed day', text: '{{day proposedDay}}', when: 'proposedDay' },
        { label: 'Note', text: '{{note}}', when: 'note' },
        { label: 'Received', text: '{{moment received}}' },
      ),
      when('needsDecision', [say('Nothing has been changed in the plan yet. Please look at it and decide.')]),
      button('Open it', 'links.open'),
    ],
  },
} as const;
