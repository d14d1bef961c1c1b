import type { MorningBrief } from '../../../../libs/contracts/src/http/brief-schema.ts';
import type { MessageItem, MessageLink, VisitMessage } from '../../../../libs/data/src/visit-message.ts';
import type { LocalDate } from '../../../../libs/kernel/src/index.ts';

// What libs/data keeps with a delivery, by template; written when the cause was committed, read when it is sent.

interface Span {
  readonly from: LocalDate;
  readonly to: LocalDate;
}

interface WithLinks {
  readonly links: readonly MessageLink[];
}

export interface StoredCrewMessage extends VisitMessage, WithLinks {
  readonly person: string;
  readonly assignment: {
    readonly id: string;
    readonly role: string;
    readonly fromDay: LocalDate;
    readonly toDay: LocalDate;
  };
  /** What the person was told before; null or absent when it is the first. */
  readonly before?: Span | null;
  /** Absent in reminders: they bring no calendar entry of their own. */
  readonly calendar?: {
    readonly method: 'REQUEST' | 'CANCEL';
    readonly uid: string;
    readonly sequence: number;
  };
  readonly answered?: boolean;
}

export interface StoredCustomerMessage extends VisitMessage, WithLinks {
  readonly before?: { readonly siteDays: readonly LocalDate[] } | null;
  readonly items?: readonly MessageItem[];
}

export interface StoredLift {
  readonly key: string;
  readonly name: string;
  readonly typeName: string;
  readonly maxGustMps: number | null;
  readonly workingRadiusM: number | null;
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
}

export interface StoredRun {
  readonly day: LocalDate;
  readonly truckKind: 'craneTruck' | 'flatbed';
  readonly forkliftOnSite: string;
}

export interface StoredPartnerMessage extends VisitMessage, WithLinks {
  readonly partner?: string;
  readonly before?: Span | null;
  readonly about?: 'lift' | 'delivery';
  readonly lift?: StoredLift;
  readonly run?: StoredRun;
}

export interface StoredSignInMessage extends WithLinks {
  readonly organisation: string;
  readonly isDemo: boolean;
  readonly name: string;
  readonly expires: { readonly at: string; readonly zone: string };
}

export interface StoredAnswerNotice {
  readonly organisation: string;
  readonly isDemo: boolean;
  readonly manager: string;
  readonly who: { readonly kind: string; readonly key: string; readonly name?: string };
  readonly about: string;
  readonly answer: 'yes' | 'no' | 'other-date';
  readonly proposedDay: LocalDate | null;
  readonly value?: number | null;
  readonly note: string | null;
  readonly received: { readonly at: string; readonly zone: string };
}

export interface StoredBrief {
  readonly organisation: string;
  readonly isDemo: boolean;
  /** Whichever it goes to. */
  readonly person?: string;
  readonly manager?: string;
  readonly brief: MorningBrief;
  readonly turnedFrom: MorningBrief['advice'] | null;
}
