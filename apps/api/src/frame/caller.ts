import type { LinkPurpose, Role } from '../../../../libs/contracts/src/http/endpoint.ts';

/** Somebody with an account, known by a session. */
export interface SignedIn {
  /** Null: known by a program token, which has no session to end. */
  readonly sessionId: string | null;
  readonly userId: string;
  readonly organisationId: string;
  readonly role: Role;
  readonly name: string;
  readonly email: string;
  /** The person, customer or partner of the season's tables that this account stands for; null for a manager. */
  readonly subjectKey: string | null;
  /** Whether the session came as a cookie, which a browser sends by itself and so needs the same-origin check. */
  readonly by: 'cookie' | 'bearer';
}

/** The holder of a link that was sent to one recipient for one purpose. */
export interface LinkHolder {
  readonly linkId: string;
  readonly tokenHash: string;
  readonly organisationId: string;
  readonly purpose: LinkPurpose;
  /** What it is about: a visit, an assignment, a hold of a lift, a delivery run. */
  readonly subjectKind: string;
  readonly subjectId: string;
  /** Whom it was sent to, in the words of the season's tables. */
  readonly recipient: { readonly kind: string; readonly key: string };
}

/** Reads who holds a session. */
export abstract class SessionReader {
  abstract read(tokenHash: string): Promise<Omit<SignedIn, 'by'> | null>;
}

/** Reads what a link is for; null, or a problem that says more: never made, revoked or expired. */
export abstract class LinkReader {
  abstract read(tokenHash: string): Promise<LinkHolder | null>;
}
