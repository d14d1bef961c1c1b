import type { WhatNextItem, WhatNextKind } from '../../../../libs/data/src/listing/what-next.ts';

type Facts = WhatNextItem['facts'];
interface Words {
  readonly title: (facts: Facts) => string;
  readonly nextStep: string;
}

const said = (facts: Facts) => (facts['note'] ? ` They say: “${facts['note']}”` : '');

/** What the manager reads about each kind of thing that waits. */
const WORDS: Readonly<Record<WhatNextKind, Words>> = {
  'advice-turned': {
    title: (facts) =>
      facts['to'] === 'hold'
        ? `The advice for ${facts['job']} on ${facts['day']} has turned from go to HOLD: ${facts['why']}.`
        : `The advice for ${facts['job']} on ${facts['day']} was go; now it CANNOT BE SAID: ${facts['why']}.`,
    nextStep: 'Read the brief of the visit, decide, and tell the crew and the lift hire.',
  },
  'assignment-declined': {
    title: (facts) => `${facts['person']} declined ${facts['job']}.${said(facts)}`,
    nextStep: 'Find another hand, or plan again and publish.',
  },
  'assignment-unanswered': {
    title: (facts) => `${facts['person']} has not answered about ${facts['job']}.`,
    nextStep: 'Ask in person and note the answer.',
  },
  'lift-declined': {
    title: (facts) => `The hire firm declined ${facts['lift']} for ${facts['job']}.`,
    nextStep: 'Hire another lift, or plan again and publish.',
  },
  'lift-unconfirmed': {
    title: (facts) => `${facts['lift']} for ${facts['job']} is not confirmed.`,
    nextStep: 'Ask the hire firm and note the answer.',
  },
  'delivery-run-unconfirmed': {
    title: (facts) => `The delivery for ${facts['job']} is not confirmed.`,
    nextStep: 'Ask a haulier and note the answer.',
  },
  'other-date-proposed': {
    title: (facts) =>
      facts['day']
        ? `${facts['day']} was proposed instead for ${facts['job']}.${said(facts)}`
        : `The dates of ${facts['job']} do not suit.${said(facts)}`,
    nextStep: 'Agree on a day; pin it and plan again if the visit must move.',
  },
  'readiness-claimed': {
    title: (facts) => `“${facts['item']}” of ${facts['job']} is said to be ready.`,
    nextStep: 'Look at it, then accept or return it.',
  },
  'readiness-refused': {
    title: (facts) => `“${facts['item']}” of ${facts['job']} did not pass.`,
    nextStep: 'Speak with whoever sees to it; accept it when it is right.',
  },
  'readiness-overdue': {
    title: (facts) =>
      `“${facts['item']}” of ${facts['job']} is overdue (seen to by: ${facts['responsible']}).`,
    nextStep: 'Ask for it, or do without it if it may be waived.',
  },
  'message-uncertain': {
    title: (facts) => `Nobody can say whether “${facts['template']}” reached ${facts['to']}.`,
    nextStep: 'Ask the recipient, then say that it arrived or send it again.',
  },
  'message-failed': {
    title: (facts) => `“${facts['template']}” could not be sent to ${facts['to']}. ${facts['fault']}`.trim(),
    nextStep: 'Mend the address or the mail settings, then send it again.',
  },
  'message-held': {
    title: (facts) =>
      `“${facts['template']}” to ${facts['to']} is held and was not sent. ${facts['fault']}`.trim(),
    nextStep: 'Set up mail or add the address and release it, or tell them in person.',
  },
  'plan-refused': {
    title: (facts) => `The last planning of ${facts['season']} gave no plan.`,
    nextStep: 'Open the run: it names what clashes. Take out a pin or mend the rows, then plan again.',
  },
};

/** Title and next step of one thing. */
export const wordsOf = ({ kind, facts }: WhatNextItem) => ({
  title: WORDS[kind].title(facts),
  nextStep: WORDS[kind].nextStep,
});
