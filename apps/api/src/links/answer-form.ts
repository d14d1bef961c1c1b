import type { recordAnswer } from '../../../../libs/data/src/confirmation.repository.ts';
import type { ReadinessFacts } from '../../../../libs/data/src/visit-facts.ts';
import { addDays, isLocalDate, type LocalDate } from '../../../../libs/kernel/src/index.ts';
import type { LinkSubject, SubjectOf } from './link-subject.ts';

/** The fields of a page's form as they came. */
export type Form = Readonly<Record<string, string | readonly string[] | undefined>>;

/** What is wrong with one field. */
export interface FieldFault {
  /** Id of the field on the page. */
  readonly field: string;
  readonly message: string;
}

/** One answer as `recordAnswer` takes it. */
export type Given = Omit<Parameters<typeof recordAnswer>[1], 'tokenHash' | 'now' | 'mailDomain'>;

/** What a form says: answers, or what is wrong with it; never both. */
export interface ReadForm {
  readonly answers: readonly Given[];
  readonly faults: readonly FieldFault[];
}

/** Longest reason or remark. */
export const NOTE_MAX = 1000;
export const REFERENCE_MAX = 200;
/** How far ahead another day may lie. */
const PROPOSAL_MAX_DAYS = 400;

/** The text in a field; null: nothing was written. */
export function textIn(form: Form, name: string): string | null {
  const value = form[name];
  const text = (typeof value === 'string' ? value : (value?.[0] ?? '')).replace(/\r\n?/g, '\n').trim();
  return text === '' ? null : text;
}

/** Reads the form of a link's page. */
export function readForm(subject: LinkSubject, form: Form): ReadForm {
  if (subject.kind === 'visit' && textIn(form, 'about') === 'items') return readItems(subject, form);
  const faults: FieldFault[] = [];
  const allowed =
    subject.kind === 'assignment' ? ['accepted', 'declined'] : ['accepted', 'proposed', 'declined'];
  const word = textIn(form, 'answer');
  if (word === null || !allowed.includes(word))
    return faulty([{ field: 'answer', message: 'Choose one of the answers.' }]);
  const answer = word as 'accepted' | 'proposed' | 'declined';
  const note = limited(form, 'note', NOTE_MAX, faults);
  const reference = limited(form, 'reference', REFERENCE_MAX, faults);
  if (answer === 'declined' && note === null)
    faults.push({
      field: 'note',
      message: 'Write the reason in a few words, so that we can plan around it.',
    });
  const proposedDay = answer === 'proposed' ? readDay(subject, form, faults) : null;
  if (faults.length > 0) return faulty(faults);
  return { answers: [{ answer, proposedDay, note, reference }], faults };
}

const faulty = (faults: readonly FieldFault[]): ReadForm => ({ answers: [], faults });

function limited(form: Form, field: string, max: number, faults: FieldFault[]): string | null {
  const text = textIn(form, field);
  if (text !== null && text.length > max)
    faults.push({ field, message: `Use at most ${max} characters; these are ${text.length}.` });
  return text;
}

function readDay(subject: LinkSubject, form: Form, faults: FieldFault[]): LocalDate | null {
  const field = 'proposedDay';
  const day = textIn(form, field);
  const fault = (message: string) => {
    faults.push({ field, message });
    return null;
  };
  if (day === null || !isLocalDate(day)) return fault('Say which day would suit, as year-month-day.');
  if (day <= subject.today) return fault('Choose a day that is still to come.');
  if (day > addDays(subject.today, PROPOSAL_MAX_DAYS)) return fault('Choose a day within the next year.');
  if (day === subject.firstDay) return fault('This is the day we asked for. Choose “yes”, or another day.');
  return day;
}

/** The items that a customer sees to, those due first in front. */
export function itemsOfCustomer({ visit }: Pick<LinkSubject, 'visit'>): ReadinessFacts[] {
  return visit.readiness
    .filter((item) => item.responsible === 'customer')
    .sort((a, b) => (a.dueOn ?? '9999').localeCompare(b.dueOn ?? '9999') || a.key.localeCompare(b.key));
}

/** Whether an item takes an answer on the page: not settled, and of a kind that words or figures can show. */
export const isAnswerable = ({ state, evidence }: ReadinessFacts): boolean =>
  state !== 'accepted' && state !== 'waived' && (evidence === 'tick' || evidence === 'number');

function readItems(subject: SubjectOf<'visit'>, form: Form): ReadForm {
  const faults: FieldFault[] = [];
  const ready = new Set([form['ready'] ?? []].flat());
  const unready = new Set([form['unready'] ?? []].flat());
  const items = itemsOfCustomer(subject);
  const answers = items.flatMap((item): Given[] => {
    const note = limited(form, `note-${item.id}`, NOTE_MAX, faults);
    const written = textIn(form, `value-${item.id}`);
    const said = note !== null || written !== null || ready.has(item.id) || unready.has(item.id);
    // Settled since the page was opened: nothing more is asked, whatever was ticked.
    if (!isAnswerable(item) || !said) return [];
    const not: Given = { answer: 'declined', itemId: item.id, note };
    const done: Given = { answer: 'done', itemId: item.id, note };
    if (unready.has(item.id)) {
      const field = item.evidence === 'number' ? `value-${item.id}` : `unready-${item.id}`;
      if (!ready.has(item.id) && written === null) return [not];
      faults.push({
        field,
        message: `${item.title}: this says both ready and not ready. Leave one of them out.`,
      });
      return [];
    }
    if (item.evidence === 'tick') {
      return [ready.has(item.id) || item.state === 'claimed' ? done : not];
    }
    if (written === null) return [item.state === 'claimed' ? { ...done, value: item.value } : not];
    const value = numberIn(written);
    if (value === null) {
      const message = `${item.title}: write the measured value in ${item.unit ?? 'its unit'} as a number, such as 12.5.`;
      faults.push({ field: `value-${item.id}`, message });
      return [];
    }
    return [{ ...done, value }];
  });
  if (faults.length > 0) return faulty(faults);
  if (answers.length === 0) {
    const open = items.find(isAnswerable);
    const field = open ? `item-${open.id}` : 'items';
    return faulty([{ field, message: 'Nothing was ticked or written. Tick what is ready, then send it.' }]);
  }
  return { answers, faults };
}

/** A number as people write it; a comma may stand for the point. Null: it is none. */
export function numberIn(text: string): number | null {
  const plain = text.replace(/[\u2212\u2013]/g, '-').replace(/\s/g, '');
  return /^[+-]?\d{1,9}(?:[.,]\d{1,6})?$/.test(plain) ? Number(plain.replace(',', '.')) : null;
}
