import { Inject, Injectable } from '@nestjs/common';
import type { Database } from '../../../../libs/data/src/database.ts';
import { findVisit, type VisitScope } from '../../../../libs/data/src/listing/visit-page.ts';
import { setVisitState } from '../../../../libs/data/src/visit.repository.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import type { Call } from '../frame/call.ts';
import { visitView } from './visit-view.ts';

/** Visits as the caller may see them. */
@Injectable()
export class VisitService {
  constructor(@Inject(DATABASE) private readonly db: Database) {}

  /** Throws `not-found`, also for a visit that this caller may not see. */
  async get(visitId: string, call: Call) {
    const { season, facts } = await this.find(visitId, call);
    return visitView(season, facts, call.user);
  }

  async setState(visitId: string, state: 'planned' | 'underway' | 'done', version: number, call: Call) {
    const { season, facts } = await this.find(visitId, call);
    const { role, subjectKey, organisationId } = call.user;
    const leads = facts.assignments.some(
      (assignment) =>
        assignment.person.key === subjectKey && assignment.role === 'lead' && assignment.state === 'accepted',
    );
    if (role === 'crew' && !leads) {
      throw new DryspellError('not-allowed', {
        detail: 'Only the lead of the visit, once the lead has accepted, may say this.',
      });
    }
    const after = await setVisitState(this.db, {
      organisationId,
      visitId,
      version,
      state,
      actor: actorOf(call),
    });
    return visitView(season, after, call.user);
  }

  private async find(visitId: string, call: Call) {
    const found = await findVisit(this.db, scopeOf(call), visitId);
    if (!found) throw new DryspellError('not-found', { visit: visitId });
    return found;
  }
}

/** The visits that a caller may see: a manager all, a crew member the own, a customer those at the own sites. */
export function scopeOf(call: Call): VisitScope {
  const { organisationId, role, subjectKey } = call.user;
  if (role === 'manager') return { organisationId };
  if (subjectKey === null) throw new DryspellError('not-found');
  if (role === 'crew') return { organisationId, person: subjectKey };
  if (role === 'customer') return { organisationId, customer: subjectKey };
  throw new DryspellError('not-found');
}
