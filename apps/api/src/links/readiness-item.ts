import type { ReadinessFacts } from '../../../../libs/data/src/visit-facts.ts';
import { sayDay } from '../../../../libs/messages/src/spoken.ts';
import { html, type SafeHtml } from '../pages/html.ts';
import { isAnswerable, NOTE_MAX } from './answer-form.ts';
import { type FormState, faultAt, field, speakerOf } from './link-parts.ts';
import type { SubjectOf } from './link-subject.ts';

type Site = SubjectOf<'visit'>;

const STATES: Readonly<Record<ReadinessFacts['state'], string>> = {
  open: 'Still to do',
  claimed: 'You told us that it is ready. We have not looked at it yet.',
  accepted: 'Accepted. Nothing more to do.',
  refused: 'Not accepted yet',
  waived: 'No longer needed',
};

/** One point of the list, with what can be answered to it. */
export function itemPart(
  subject: Site,
  state: FormState,
  item: ReadinessFacts,
): { readonly part: SafeHtml; readonly asks: boolean } {
  const over = subject.closed === 'called-off' || subject.closed === 'done';
  const asks = isAnswerable(item) && !over;
  const value = item.value !== null && html` Value: ${withUnit(item, item.value)}.`;
  const facts = html`<p>${dueWords(subject, item)}${item.mustBeTrue ? ' We cannot start without it.' : ' Good to have, not a must.'}</p>
<p class="${item.state === 'accepted' ? 'done' : 'state'}"><strong>${STATES[item.state]}</strong>${value}</p>
${item.state === 'refused' && refusal(subject, item)}
${isPaper(item) && !over && item.state !== 'accepted' && item.state !== 'waived' && html`<p>This is shown by a ${item.evidence}: reply to the message in which this link came and attach it. We note it here when we have it.</p>`}`;
  const part = asks
    ? html`<fieldset id="item-${item.id}" tabindex="-1"><legend>${item.title}</legend>${facts}${answerFields(state, item)}</fieldset>`
    : html`<section class="item" id="item-${item.id}"><h3>${item.title}</h3>${facts}</section>`;
  return { part, asks };
}

const isPaper = ({ evidence }: ReadinessFacts): boolean => evidence === 'photo' || evidence === 'document';

function dueWords(subject: Site, item: ReadinessFacts): string {
  if (item.dueOn === null) return 'No date is set yet.';
  const day = sayDay(speakerOf(subject), item.dueOn);
  const waits = item.state === 'open' || item.state === 'refused';
  return waits && item.dueOn < subject.today ? `Was due by ${day}: overdue.` : `Due by ${day}.`;
}

/** Why it was not accepted: a figure outside its limits, and what the firm wrote. */
function refusal(subject: Site, item: ReadinessFacts): SafeHtml {
  const limits = limitsOf(item);
  const outside = item.value !== null && isOutside(item, item.value) && limits;
  const last = subject.itemAnswers.get(item.id);
  // The remark is the firm's own unless it is word for word what the customer sent last.
  const remark = item.remark !== null && item.remark !== last?.note ? item.remark : null;
  return html`<div class="caution">${outside && html`<p>${withUnit(item, item.value ?? 0)} is outside the limits: ${limits}.</p>`}
${remark && html`<p>We wrote: ${remark}</p>`}
${!outside && remark === null && html`<p>No reason is written down. Please telephone and ask.</p>`}</div>`;
}

function answerFields(state: FormState, item: ReadinessFacts): SafeHtml {
  const { id } = item;
  const claimed = item.state === 'claimed';
  const limits = limitsOf(item);
  const note = field(state, {
    id: `note-${id}`,
    type: 'text',
    max: NOTE_MAX,
    label: claimed ? 'Remark (optional)' : 'Remark, such as why not or when (optional)',
  });
  const unready = claimed && box(state, 'unready', item, 'It is not ready after all');
  if (item.evidence === 'number') {
    const label = `${claimed ? 'Another measured value' : 'Measured value'} in ${item.unit ?? 'its unit'}${limits === null ? '' : ` (${limits})`}`;
    return html`${field(state, { id: `value-${id}`, type: 'number', max: 20, label })}${unready}${note}`;
  }
  return html`${claimed ? unready : box(state, 'ready', item, 'This is ready')}${note}`;
}

function box(state: FormState, name: 'ready' | 'unready', item: ReadinessFacts, label: string): SafeHtml {
  const { words, tie } = faultAt(state, `${name}-${item.id}`);
  const ticked = [state.given[name] ?? []].flat().includes(item.id);
  return html`${words}<label class="choice" for="${name}-${item.id}"><input type="checkbox" id="${name}-${item.id}" name="${name}" value="${item.id}"${ticked && html` checked`}${tie}><span>${label}</span></label>`;
}

const withUnit = (item: ReadinessFacts, value: number): string =>
  item.unit === null ? String(value) : `${value} ${item.unit}`;

const isOutside = ({ toleranceLow, toleranceHigh }: ReadinessFacts, value: number): boolean =>
  (toleranceLow !== null && value < toleranceLow) || (toleranceHigh !== null && value > toleranceHigh);

/** What a figure must keep to; null: no limits are known. */
function limitsOf(item: ReadinessFacts): string | null {
  const { toleranceLow: low, toleranceHigh: high } = item;
  if (low !== null && high !== null) return `from ${low} to ${withUnit(item, high)}`;
  if (low !== null) return `${withUnit(item, low)} or more`;
  return high === null ? null : `${withUnit(item, high)} or less`;
}
