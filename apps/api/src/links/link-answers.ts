import { Inject, Injectable } from '@nestjs/common';
import { recordAnswer } from '../../../../libs/data/src/confirmation.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { type Clock, DryspellError } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { DATABASE } from '../data/database.token.ts';
import type { LinkHolder } from '../frame/caller.ts';
import { mailDomain } from '../public-address.ts';
import { API_CONFIG, CLOCK } from '../tokens.ts';
import { type FieldFault, type Form, readForm, textIn } from './answer-form.ts';
import { type LinkSubject, shownDays } from './link-subject.ts';

/** What became of a form: kept, faulty (nothing was kept), or about something that has changed since it was shown. */
export type Outcome =
  | { readonly kind: 'kept' }
  | { readonly kind: 'faulty'; readonly faults: readonly FieldFault[] }
  | { readonly kind: 'changed' };

/** Takes what was filled in on a link's page. */
@Injectable()
export class LinkAnswers {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  /** Checks the whole form before anything is kept. Each answer is one transaction, and sending it again changes nothing. */
  async take(link: LinkHolder, subject: LinkSubject, form: Form): Promise<Outcome> {
    if (textIn(form, 'shown') !== shownDays(subject)) return { kind: 'changed' };
    const { answers, faults } = readForm(subject, form);
    if (faults.length > 0) return { kind: 'faulty', faults };
    const context = { tokenHash: link.tokenHash, now: this.clock.now(), mailDomain: mailDomain(this.config) };
    try {
      for (const answer of answers) await recordAnswer(this.db, { ...answer, ...context });
    } catch (error) {
      if (error instanceof DryspellError && error.code === 'state-conflict') return { kind: 'changed' };
      throw error;
    }
    return { kind: 'kept' };
  }
}
