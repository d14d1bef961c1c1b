import { DryspellError, type ErrorCode } from '../../kernel/src/index.ts';

/**
 * `temporary`: certainly not delivered, worth trying again. `permanent`: certainly not delivered, and trying the same
 * again will not help. `unknown`: the end of the message was sent and no answer came; it may have been delivered, so a
 * program must not send it again by itself.
 */
export type MailOutcome = 'temporary' | 'permanent' | 'unknown';

/** Where it went wrong, as a closed list. */
export type MailFailureReason =
  | 'no-connection'
  | 'no-secure-connection'
  | 'sign-in-refused'
  | 'sender-refused'
  | 'recipient-refused'
  | 'message-refused'
  | 'too-large'
  | 'try-later'
  | 'hand-over-stopped'
  | 'no-answer-after-end';

export interface MailFailureFacts {
  readonly outcome: MailOutcome;
  readonly reason: MailFailureReason;
  /** The server's three-digit reply code, null when it gave none. */
  readonly responseCode: number | null;
  /** The server's reply as it came, null when it gave none. Holds no credentials. */
  readonly response: string | null;
}

/** A mail that was not taken, or of which it is not known whether it was taken. */
export class MailFailure extends DryspellError {
  readonly outcome: MailOutcome;
  readonly reason: MailFailureReason;
  readonly responseCode: number | null;
  readonly response: string | null;

  constructor(facts: MailFailureFacts, cause?: unknown) {
    super(codeOf(facts), { ...facts }, cause);
    this.name = 'MailFailure';
    this.outcome = facts.outcome;
    this.reason = facts.reason;
    this.responseCode = facts.responseCode;
    this.response = facts.response;
  }
}

/** What is read of an error of the SMTP client; the rest of it is left alone. */
export interface SmtpErrorFields {
  readonly code?: string | undefined;
  readonly command?: string | undefined;
  readonly response?: string | undefined;
  readonly responseCode?: number | undefined;
}

/**
 * Sorts an error of the SMTP client. `endSent` says whether the end of the message had been let go when it came.
 * Reply classes are those of RFC 5321 section 4.2.1: 4yz may be repeated, 5yz not. A refused sign-in or a refused
 * connection is a fault of the set-up and not of the message, so it counts as temporary.
 */
export function sortSmtpError(error: SmtpErrorFields, endSent: boolean): MailFailureFacts {
  const responseCode = typeof error.responseCode === 'number' ? error.responseCode : null;
  const response = error.response ?? null;
  const facts = (outcome: MailOutcome, reason: MailFailureReason): MailFailureFacts => ({
    outcome,
    reason,
    responseCode,
    response,
  });
  const replyClass = responseCode === null ? 0 : Math.floor(responseCode / 100);

  if (endSent) {
    if (replyClass === 4) return facts('temporary', 'try-later');
    if (replyClass === 5) return facts('permanent', 'message-refused');
    return facts('unknown', 'no-answer-after-end');
  }
  if (error.code === 'EAUTH' || error.code === 'ENOAUTH' || responseCode === 530 || responseCode === 535) {
    return facts('temporary', 'sign-in-refused');
  }
  if (error.code === 'ETLS') return facts('temporary', 'no-secure-connection');
  if (error.code === 'EMESSAGE' && responseCode === null) return facts('permanent', 'too-large');
  // 503 says that the session was out of step, which a new connection mends.
  if (replyClass === 5 && responseCode !== 503) {
    if (error.command === 'MAIL FROM') return facts('permanent', 'sender-refused');
    if (error.command === 'RCPT TO') return facts('permanent', 'recipient-refused');
    if (error.command === 'DATA') return facts('permanent', 'message-refused');
  }
  // An address that the client itself will not put on the wire.
  if (error.code === 'EENVELOPE' && responseCode === null) return facts('permanent', 'recipient-refused');
  return facts('temporary', replyClass === 4 ? 'try-later' : 'no-connection');
}

function codeOf(facts: MailFailureFacts): ErrorCode {
  if (facts.reason === 'sign-in-refused') return 'not-configured';
  if (facts.reason === 'too-large') return 'too-large';
  return facts.outcome === 'permanent' ? 'invalid-input' : 'unavailable';
}
