import type { LinkPurpose, Role } from '../../../../libs/contracts/src/http/endpoint.ts';

/** Somebody with an account, known by a session. */
export interface SignedIn {
  readonly sessionId: string;
  readonly userId: string;
  readonly organisationId: string;
  readonly role: Role;
  readonly name: string;
  /** The person, customer or partner of the season's tables that this account stands for; null for a manager. */
  readonly subjectKey: string | null;
  /** Whether the session came as a cookie, which a browser sends by itself and so needs the same-origin check. */
  readonly by: 'cookie' | 'bearer';
}

/** The holder of a link that was sent to one recipient for one purpose. */
export interface LinkHolder {
  readonly linkId: string;
  readonly organisationId: string;
  readonly purpose: LinkPurpose;
  /** Whom it was sent to, in the words of the season's tables. */
  readonly recipientKey: string;
  /** What it is about: a visit, a site, a booking. */
  readonly subjectId: string;
}

/** Reads who holds a session. */
export abstract class SessionReader {
  abstract read(tokenHash: string): Promise<Omit<SignedIn, 'by'> | null>;
}

/** Reads what a link is for; null: never made, used up, revoked or expired. */
export abstract class LinkReader {
  abstract read(tokenHash: string): Promise<LinkHolder | null>;
}
