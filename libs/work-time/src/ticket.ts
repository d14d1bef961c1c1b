import type { Day, Verdict } from '../../kernel/src/index.ts';

/** A licence or certificate of a person. */
export interface Ticket {
  readonly ticket: string;
  /** First day of validity; null when unknown. */
  readonly validFrom: Day | null;
  /** Last day of validity, included; `never` when it does not expire; null when unknown. */
  readonly expiresOn: Day | 'never' | null;
}

/** Whether a ticket holds on a day, its last day included. Unknown dates give `cannot say`, unless the other one settles it. */
export function ticketHolds(ticket: Ticket, day: Day): Verdict {
  if (ticket.validFrom !== null && day < ticket.validFrom) return 'not ok';
  if (typeof ticket.expiresOn === 'number' && day > ticket.expiresOn) return 'not ok';
  return ticket.validFrom === null || ticket.expiresOn === null ? 'cannot say' : 'ok';
}

/** Whether a person holds a ticket on a day: `ok` if one does, else `cannot say` if one may, else `not ok`. */
export function holdsTicket(tickets: readonly Ticket[], name: string, day: Day): Verdict {
  const verdicts = tickets
    .filter((ticket) => ticket.ticket === name)
    .map((ticket) => ticketHolds(ticket, day));
  if (verdicts.includes('ok')) return 'ok';
  return verdicts.includes('cannot say') ? 'cannot say' : 'not ok';
}
