import type { Database } from '../../../../libs/data/src/database.ts';
import { type ClosedBecause, closedBecause } from '../../../../libs/data/src/link-answer.ts';
import { findVisitOfSubject } from '../../../../libs/data/src/listing/visit-of-subject.ts';
import type { SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import type {
  AssignmentFacts,
  DeliveryRunFacts,
  LiftHoldFacts,
  VisitFacts,
} from '../../../../libs/data/src/visit-facts.ts';
import { DryspellError, type Instant, type LocalDate } from '../../../../libs/kernel/src/index.ts';
import type { LinkHolder } from '../frame/caller.ts';

interface Common {
  readonly visit: VisitFacts;
  readonly season: SeasonInfo;
  /** Why no answer is taken any more; null: it is. */
  readonly closed: ClosedBecause | null;
}

/** What a link asks, with all that its page shows. */
export type LinkSubject =
  | (Common & { readonly kind: 'assignment'; readonly assignment: AssignmentFacts })
  | (Common & { readonly kind: 'visit' })
  | (Common & { readonly kind: 'liftHold'; readonly hold: LiftHoldFacts })
  | (Common & { readonly kind: 'deliveryRun'; readonly run: DeliveryRunFacts });

/** Reads what a link asks. Throws `link-not-valid` when that is no longer there, or is not for this recipient any more. */
export async function readLinkSubject(db: Database, link: LinkHolder, now: Instant): Promise<LinkSubject> {
  const { organisationId, subjectKind, subjectId, recipient } = link;
  const found = await findVisitOfSubject(db, { organisationId, kind: subjectKind, id: subjectId });
  if (!found) throw new DryspellError('link-not-valid');
  const { visit, season } = found;
  const closed = (kind: LinkSubject['kind'], state: string | null, firstDay: LocalDate) =>
    closedBecause({ kind, state, visitState: visit.state, firstDay, zone: visit.site.zone }, now);
  if (subjectKind === 'visit' && visit.customer.key === recipient.key) {
    return { kind: 'visit', visit, season, closed: closed('visit', null, visit.startDay) };
  }
  if (subjectKind === 'assignment') {
    const assignment = visit.assignments.find(({ id }) => id === subjectId);
    if (assignment?.person.key === recipient.key) {
      const why = closed('assignment', assignment.state, assignment.fromDay);
      return { kind: 'assignment', visit, season, assignment, closed: why };
    }
  }
  if (subjectKind === 'liftHold') {
    const hold = visit.liftHolds.find(({ id }) => id === subjectId);
    if (hold?.partner?.key === recipient.key) {
      return { kind: 'liftHold', visit, season, hold, closed: closed('liftHold', hold.state, hold.fromDay) };
    }
  }
  if (subjectKind === 'deliveryRun') {
    const run = visit.deliveryRuns.find(({ id }) => id === subjectId);
    if (run?.haulier?.key === recipient.key) {
      return { kind: 'deliveryRun', visit, season, run, closed: closed('deliveryRun', run.state, run.day) };
    }
  }
  throw new DryspellError('link-not-valid');
}
