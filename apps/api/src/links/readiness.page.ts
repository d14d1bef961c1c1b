import type { ReadinessFacts } from '../../../../libs/data/src/visit-facts.ts';
import { html, type SafeHtml } from '../pages/html.ts';
import { pageOf } from '../pages/layout.ts';
import { spokenDate, spokenSpan } from '../pages/spoken.ts';
import { type FormState, formStart, noteField, noticesOf, placeOf, radio } from './link-parts.ts';
import type { LinkSubject } from './link-subject.ts';

const STATES = {
  open: 'to do',
  claimed: 'you said it is ready; the firm has not looked yet',
  accepted: 'seen and accepted',
  refused: 'not yet right',
  waived: 'not needed',
} as const;

/** The items that a customer sees to, those due first in front. */
export function itemsOfCustomer(subject: LinkSubject): ReadinessFacts[] {
  return subject.visit.readiness
    .filter((item) => item.responsible === 'customer' && item.state !== 'waived')
    .sort((a, b) => (a.dueOn ?? '9999').localeCompare(b.dueOn ?? '9999') || a.key.localeCompare(b.key));
}

/** The page on which a customer says what is ready and whether the dates suit. */
export function readinessPage(subject: LinkSubject & { kind: 'visit' }, state: FormState): string {
  const { visit } = subject;
  const items = itemsOfCustomer(subject);
  const over = visit.state === 'cancelled' || visit.state === 'done';
  const body = html`${noticesOf(subject, state)}
<dl>
<dt>Where</dt><dd>${placeOf(subject)}</dd>
<dt>The crew comes</dt><dd>${spokenSpan(visit.startDay, visit.endDay)}${visit.releaseDay !== visit.endDay && html`; days up to ${spokenDate(visit.releaseDay)} are held back for weather`}</dd>
${visit.deliveryDay && html`<dt>Goods arrive</dt><dd>${spokenDate(visit.deliveryDay)}</dd>`}
</dl>
<h2>Getting ready</h2>
${items.length === 0 && html`<p>Nothing is asked of you.</p>`}
${
  items.length > 0 &&
  !over &&
  html`<p>Tick what is ready. You can come back to this page and change what you said until the firm has accepted it.</p>
${formStart(state, 'items')}
${items.map(itemField)}
<p class="actions"><button type="submit">Send what is ready</button></p>
</form>`
}
<p class="caution">Electricity and lifting: only licensed people do this work. If something is not safe or not clear, leave it open and write why.</p>
${
  subject.closed === null &&
  html`<h2>The dates</h2>
${formStart(state, 'dates')}
<fieldset><legend>Do the dates suit?</legend>
${radio('answer', 'accepted', 'Yes', false)}
${radio('answer', 'proposed', 'Another day would be better:', false)}
<p><label for="proposedDay">First day</label><input type="date" id="proposedDay" name="proposedDay"></p>
${radio('answer', 'declined', 'No', false)}
</fieldset>
${noteField('Anything the firm should know', 'dateNote')}
<p class="actions"><button type="submit" class="plain">Send the answer on dates</button></p>
</form>`
}`;
  return pageOf(`${visit.job.title}: getting ready`, body);
}

function itemField(item: ReadinessFacts): SafeHtml {
  const settled = item.state === 'accepted';
  const unit = item.unit ?? 'its unit';
  const range = rangeOf(item);
  const due = item.dueOn ? `due ${spokenDate(item.dueOn)}` : 'no date yet';
  return html`<fieldset><legend>${item.title}</legend>
<p class="small">${due}; ${STATES[item.state]}${item.mustBeTrue && '; the visit cannot start without it'}${item.value !== null && html`; value ${item.value} ${unit}`}</p>
${!settled && answerField(item, unit, range)}
</fieldset>`;
}

function answerField(item: ReadinessFacts, unit: string, range: string | null): SafeHtml {
  if (item.evidence === 'photo' || item.evidence === 'document') {
    return html`<p class="small">This needs a ${item.evidence}. It cannot be ticked here: send it to the firm, who will note it.</p>`;
  }
  const value =
    item.evidence === 'number' &&
    html`<p><label for="value-${item.id}">Measured value in ${unit}${range && html` (${range})`}</label><input type="text" inputmode="decimal" id="value-${item.id}" name="value-${item.id}" value="${item.value ?? ''}"></p>`;
  const claimed = item.state === 'claimed';
  return html`<label><input type="checkbox" name="ready" value="${item.id}"${claimed && html` checked`}> This is ready</label>
${value}
<p><label for="note-${item.id}">Remark</label><input type="text" id="note-${item.id}" name="note-${item.id}" maxlength="1000"></p>`;
}

function rangeOf({ toleranceLow, toleranceHigh }: ReadinessFacts): string | null {
  if (toleranceLow !== null && toleranceHigh !== null) return `${toleranceLow} to ${toleranceHigh} passes`;
  if (toleranceLow !== null) return `${toleranceLow} or more passes`;
  return toleranceHigh !== null ? `${toleranceHigh} or less passes` : null;
}
