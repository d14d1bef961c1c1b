const KINDS: Readonly<Record<string, string>> = {
  'advice-turned': 'Weather advice has turned',
  'assignment-declined': 'Declined by a crew member',
  'assignment-unanswered': 'No answer from a crew member',
  'lift-declined': 'Lift declined',
  'lift-unconfirmed': 'Lift not confirmed',
  'delivery-run-unconfirmed': 'Delivery not confirmed',
  'other-date-proposed': 'Another date proposed',
  'readiness-claimed': 'Said to be ready',
  'readiness-refused': 'Returned, not yet mended',
  'readiness-overdue': 'Getting ready: overdue',
  'message-uncertain': 'Message: may or may not have left',
  'message-failed': 'Message: failed',
  'message-held': 'Message: held, not sent',
  'plan-refused': 'No plan could be made',
};

/** What a kind of waiting thing is called. */
export const kindWords = (kind: string): string => KINDS[kind] ?? kind;

/** Kinds beside which the cautions on lifting stand. */
export const LIFTING_KINDS: ReadonlySet<string> = new Set([
  'advice-turned',
  'lift-declined',
  'lift-unconfirmed',
]);
