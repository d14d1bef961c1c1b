import type { Database } from '../../../../libs/data/src/database.ts';
import { type ClosedBecause, closedBecause } from '../../../../libs/data/src/link-answer.ts';
import {
  findVisitOfSubject,
  type LastAnswer,
  lastAnswers,
} from '../../../../libs/data/src/listing/visit-of-subject.ts';
import type { SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import type {
  Addressee,
  AssignmentFacts,
  DeliveryRunFacts,
  LiftHoldFacts,
  VisitFacts,
} from '../../../../libs/data/src/visit-facts.ts';
import { type Instant, type LocalDate, localDateAt } from '../../../../libs/kernel/src/index.ts';
import type { LinkHolder } from '../frame/caller.ts';
import { deadLink } from '../frame/dead-link.ts';

interface Common {
  readonly visit: VisitFacts;
  readonly season: SeasonInfo;
  readonly reader: Addressee;
  /** Today at the site. */
  readonly today: LocalDate;
  /** Days that are asked for. */
  readonly firstDay: LocalDate;
  readonly lastDay: LocalDate;
  /** Why no answer is taken any more; null: it is. */
  readonly closed: ClosedBecause | null;
  /** The last answer to what is asked; null: none yet. */
  readonly last: LastAnswer | null;
}

/** What a link asks, with all that its page shows. */
export type LinkSubject =
  | (Common & { readonly kind: 'assignment'; readonly assignment: AssignmentFacts })
  | (Common & { readonly kind: 'visit'; readonly itemAnswers: ReadonlyMap<string, LastAnswer> })
  | (Common & { readonly kind: 'liftHold'; readonly hold: LiftHoldFacts })
  | (Common & { readonly kind: 'deliveryRun'; readonly run: DeliveryRunFacts });

/** A link of one kind of thing. */
export type SubjectOf<Kind extends LinkSubject['kind']> = LinkSubject & { readonly kind: Kind };

interface Asked {
  readonly reader: Addressee | null | undefined;
  readonly firstDay: LocalDate;
  readonly lastDay: LocalDate;
  readonly state: string | null;
  readonly own: object;
}

/** Reads what a link asks. Throws `link-not-valid` when that is no longer there, or no longer for this reader. */
export async function readLinkSubject(db: Database, link: LinkHolder, now: Instant): Promise<LinkSubject> {
  const { organisationId, subjectKind, subjectId, recipient } = link;
  const found = await findVisitOfSubject(db, { organisationId, kind: subjectKind, id: subjectId });
  if (!found) throw deadLink('withdrawn');
  const { visit, season } = found;
  const asked = askedOf(visit, subjectKind as LinkSubject['kind'], subjectId);
  if (asked?.reader?.key !== recipient.key) throw deadLink('withdrawn');
  const { reader, firstDay, lastDay, state, own } = asked;
  const { zone } = visit.site;
  const kind = subjectKind as LinkSubject['kind'];
  const itemIds = kind === 'visit' ? visit.readiness.map((item) => item.id) : [];
  const answers = await lastAnswers(db, { organisationId, subjectIds: [subjectId, ...itemIds] });
  return {
    kind,
    visit,
    season,
    reader,
    today: localDateAt(now, zone),
    firstDay,
    lastDay,
    closed: closedBecause({ kind, state, visitState: visit.state, firstDay, zone }, now),
    last: answers.get(subjectId) ?? null,
    ...(kind === 'visit' ? { itemAnswers: answers } : {}),
    ...own,
  } as LinkSubject;
}

function askedOf(visit: VisitFacts, kind: LinkSubject['kind'], id: string): Asked | null {
  if (kind === 'visit') {
    const { customer: reader, startDay: firstDay, endDay: lastDay } = visit;
    return { reader, firstDay, lastDay, state: null, own: {} };
  }
  if (kind === 'assignment') {
    const assignment = visit.assignments.find((found) => found.id === id);
    if (!assignment) return null;
    const { person: reader, fromDay: firstDay, toDay: lastDay, state } = assignment;
    return { reader, firstDay, lastDay, state, own: { assignment } };
  }
  if (kind === 'liftHold') {
    const hold = visit.liftHolds.find((found) => found.id === id);
    if (!hold) return null;
    const { partner: reader, fromDay: firstDay, toDay: lastDay, state } = hold;
    return { reader, firstDay, lastDay, state, own: { hold } };
  }
  const run = visit.deliveryRuns.find((found) => found.id === id);
  return run
    ? { reader: run.haulier, firstDay: run.day, lastDay: run.day, state: run.state, own: { run } }
    : null;
}

/** Names what the page showed of the days; an answer that was given to other days is not taken. */
export const shownDays = (subject: LinkSubject): string => `${subject.firstDay}/${subject.lastDay}`;
