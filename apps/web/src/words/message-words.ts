const TEMPLATES: Readonly<Record<string, string>> = {
  'crew-assignment': 'Visit: asked to come',
  'crew-assignment-changed': 'Visit: changed',
  'crew-assignment-cancelled': 'Visit: called off',
  'crew-reminder': 'Visit: reminder',
  'arrival-notice': 'Arrival: days of the visit',
  'arrival-changed': 'Arrival: other days',
  'arrival-cancelled': 'Arrival: called off',
  'site-preparation': 'Getting ready: what is needed by when',
  'site-preparation-reminder': 'Getting ready: reminder',
  'lift-request': 'Lift: asked for',
  'lift-request-cancelled': 'Lift: called off',
  'delivery-request': 'Delivery: asked for',
  'delivery-request-cancelled': 'Delivery: called off',
  'partner-reminder': 'Reminder to a partner',
  'answer-received': 'An answer has come',
  'sign-in-link': 'Sign-in link',
};

/** What a message is about. */
export const messageWords = (template: string): string =>
  TEMPLATES[template] ?? template.replaceAll('-', ' ').replace(/^./, (letter) => letter.toUpperCase());

const VISIT_KINDS: Readonly<Record<string, string>> = {
  survey: 'Survey',
  build: 'Build',
  return: 'Return for snags',
  service: 'Yearly service',
};

/** What a kind of visit is called. */
export const visitKindWords = (kind: string): string => VISIT_KINDS[kind] ?? kind;

const RESPONSIBLE: Readonly<Record<string, string>> = {
  customer: 'customer',
  manager: 'office',
  crew: 'crew',
  partner: 'partner',
};

/** Who sees to something. */
export const responsibleWords = (who: string): string => RESPONSIBLE[who] ?? who;
