import { Inject, Injectable } from '@nestjs/common';
import { recordAnswer } from '../../../../libs/data/src/confirmation.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { changeRow } from '../../../../libs/data/src/season-rows.repository.ts';
import type { ReadinessFacts } from '../../../../libs/data/src/visit-facts.ts';
import { type Clock, DryspellError, isLocalDate, type LocalDate } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { DATABASE } from '../data/database.token.ts';
import type { LinkHolder } from '../frame/caller.ts';
import { mailDomain } from '../public-address.ts';
import { API_CONFIG, CLOCK } from '../tokens.ts';
import type { LinkSubject } from './link-subject.ts';
import { itemsOfCustomer } from './readiness.page.ts';

/** The fields of a page's form. */
export type Form = Readonly<Record<string, string | readonly string[] | undefined>>;

type Given = Omit<Parameters<typeof recordAnswer>[1], 'tokenHash' | 'now' | 'mailDomain'>;

const textOf = (form: Form, name: string): string | null => {
  const value = form[name];
  const text = (typeof value === 'string' ? value : (value?.[0] ?? '')).trim().slice(0, 1000);
  return text === '' ? null : text;
};

/** Takes what was filled in on a link's page. */
@Injectable()
export class LinkAnswers {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  /** Keeps the answer; comes back with what is wrong with it, an empty list when all was kept. */
  async take(link: LinkHolder, subject: LinkSubject, form: Form): Promise<string[]> {
    if (subject.kind === 'visit' && textOf(form, 'what') === 'items')
      return this.takeItems(link, subject, form);
    const answer = answerOf(
      form,
      subject.kind === 'assignment' ? ['accepted', 'declined'] : ['accepted', 'declined', 'proposed'],
    );
    if (typeof answer === 'string') return [answer];
    return this.keep(link, answer);
  }

  private async takeItems(
    link: LinkHolder,
    subject: LinkSubject & { kind: 'visit' },
    form: Form,
  ): Promise<string[]> {
    const ready = new Set([form['ready'] ?? []].flat());
    const faults: string[] = [];
    for (const item of itemsOfCustomer(subject)) {
      if (item.state === 'accepted' || (item.evidence !== 'tick' && item.evidence !== 'number')) continue;
      if (!ready.has(item.id)) {
        if (item.state === 'claimed') await this.takeBack(link, subject, item);
        continue;
      }
      const value = item.evidence === 'number' ? numberOf(textOf(form, `value-${item.id}`)) : null;
      if (item.evidence === 'number' && value === null) {
        faults.push(`“${item.title}”: give the measured value in ${item.unit ?? 'its unit'}, as a number.`);
        continue;
      }
      const note = textOf(form, `note-${item.id}`);
      // What was said before and has not changed is not said again.
      if (item.state === 'claimed' && item.value === value && note === null) continue;
      faults.push(...(await this.keep(link, { answer: 'done', itemId: item.id, value, note })));
    }
    return faults;
  }

  /** A tick that was taken out again before anybody looked: the item is open as before. */
  private async takeBack(link: LinkHolder, subject: LinkSubject, item: ReadinessFacts): Promise<void> {
    await changeRow(this.db, {
      seasonId: subject.visit.seasonId,
      table: 'readinessItems',
      id: item.id,
      version: item.version,
      changes: { state: 'open', value: null, doneOn: null },
      actor: { kind: 'link', id: link.linkId, name: `${link.recipient.kind} ${link.recipient.key}` },
    });
  }

  private async keep(link: LinkHolder, given: Given): Promise<string[]> {
    const context = { tokenHash: link.tokenHash, now: this.clock.now(), mailDomain: mailDomain(this.config) };
    try {
      await recordAnswer(this.db, { ...given, ...context });
      return [];
    } catch (error) {
      // What the sender can mend is said on the page; all else is for the exception filter.
      if (error instanceof DryspellError && error.code === 'invalid-input') {
        return [`It needs ${String(error.data['expected'] ?? 'another answer')}.`];
      }
      if (error instanceof DryspellError && error.code === 'state-conflict') {
        return ['It changed while you were answering. The page shows how it stands now.'];
      }
      throw error;
    }
  }
}

function answerOf(form: Form, allowed: readonly ('accepted' | 'declined' | 'proposed')[]): Given | string {
  const answer = allowed.find((word) => word === textOf(form, 'answer'));
  if (!answer) return 'Choose one of the answers.';
  const note = textOf(form, 'note') ?? textOf(form, 'dateNote');
  const reference = textOf(form, 'reference')?.slice(0, 200) ?? null;
  if (answer !== 'proposed') return { answer, note, reference };
  const day = textOf(form, 'proposedDay');
  if (day === null || !isLocalDate(day)) return 'Say which day would be better.';
  return { answer, proposedDay: day as LocalDate, note, reference };
}

/** A number as people write it; a comma may stand for the point. */
function numberOf(text: string | null): number | null {
  if (text === null || !/^[+-]?\d{1,9}(?:[.,]\d{1,6})?$/.test(text)) return null;
  return Number(text.replace(',', '.'));
}
