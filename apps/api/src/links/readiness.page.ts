import { sayDay, sayDays } from '../../../../libs/messages/src/spoken.ts';
import { html, type SafeHtml } from '../pages/html.ts';
import { itemsOfCustomer, NOTE_MAX } from './answer-form.ts';
import {
  cautionList,
  choices,
  type FormState,
  field,
  formStart,
  linkPage,
  momentAt,
  placeOf,
  speakerOf,
} from './link-parts.ts';
import type { SubjectOf } from './link-subject.ts';
import { itemPart } from './readiness-item.ts';
import { cautionWords } from './speaker.ts';

type Site = SubjectOf<'visit'>;

/** The page on which a customer says what is ready and whether the dates suit. */
export function readinessPage(subject: Site, state: FormState): string {
  const { visit } = subject;
  const speaker = speakerOf(subject);
  const hazards = visit.job.visitKind === 'build' ? cautionWords('lifting', 'wind', 'electricity') : [];
  const held =
    visit.releaseDay !== visit.endDay &&
    html`; days up to ${sayDay(speaker, visit.releaseDay)} are kept in reserve for weather`;
  const body = html`<p>Hello ${subject.reader.name}.</p>
<dl>
<dt>Where</dt><dd>${placeOf(subject)}</dd>
<dt>We plan to come</dt><dd>${sayDays(speaker, visit.startDay, visit.endDay)}${held}</dd>
${visit.deliveryDay && html`<dt>Goods arrive</dt><dd>${sayDay(speaker, visit.deliveryDay)}</dd>`}
</dl>
${itemsPart(subject, state)}
${cautionList(['If something is not safe or not clear, leave it open and write why.', ...hazards])}
${datesPart(subject, state)}`;
  return linkPage(`Getting ready: ${visit.site.name}`, subject, state, body);
}

function itemsPart(subject: Site, state: FormState): SafeHtml {
  const items = itemsOfCustomer(subject);
  if (items.length === 0)
    return html`<h2>Getting ready</h2><p>No points are asked of you for this visit.</p>`;
  const count = (...states: string[]) => items.filter((item) => states.includes(item.state)).length;
  const parts = items.map((item) => itemPart(subject, state, item));
  const over = subject.closed === 'called-off' || subject.closed === 'done';
  const asks = !over && parts.some(({ asks: open }) => open);
  const list = html`${parts.map(({ part }) => part)}`;
  return html`<h2 id="items" tabindex="-1">Getting ready</h2>
<p>${count('accepted', 'waived')} of ${items.length} settled, ${count('claimed')} told and not looked at yet, ${count('open', 'refused')} still to do.</p>
${
  asks
    ? html`<p>Tick what is ready, or write what you measured. You can come back to this page as often as you like; a point that we have accepted is closed.</p>
${formStart(subject, state, 'items')}
${list}
<p class="actions"><button type="submit">Send what is ready</button></p>
</form>`
    : list
}`;
}

const SAID: Readonly<Record<string, string>> = {
  accepted: 'the dates suit you',
  proposed: 'another day would suit you better; we have not settled it yet',
  declined: 'the dates do not suit you',
};

function datesPart(subject: Site, state: FormState): SafeHtml {
  const { last, closed } = subject;
  const speaker = speakerOf(subject);
  const said =
    last &&
    html`<p class="done">Your answer: <strong>${SAID[last.answer] ?? last.answer}</strong> (${momentAt(subject, last.at)})${last.proposedDay && html`<br>First day: ${sayDay(speaker, last.proposedDay)}`}${last.note && html`<br>Your note: ${last.note}`}</p>`;
  if (closed !== null) return html`${said && html`<h2>The dates</h2>${said}`}`;
  return html`<h2>The dates</h2>
${said}
${formStart(subject, state, 'dates')}
${choices(state, {
  legend: 'Do the dates suit you?',
  chosen: null,
  choices: [
    { value: 'accepted', label: `Yes, ${sayDays(speaker, subject.firstDay, subject.lastDay)}` },
    {
      value: 'proposed',
      label: 'Another day would suit us better',
      more: field(state, { id: 'proposedDay', type: 'date', label: 'First day that would suit' }),
    },
    { value: 'declined', label: 'No' },
  ],
})}
${field(state, { id: 'note', type: 'lines', max: NOTE_MAX, label: 'If not: the reason. Otherwise: anything we should know (optional)' })}
<p class="actions"><button type="submit" class="plain">Send the answer on the dates</button></p>
</form>`;
}
