import type { ClosedBecause } from '../../../../libs/data/src/link-answer.ts';
import type { Instant } from '../../../../libs/kernel/src/index.ts';
import { sayMoment } from '../../../../libs/messages/src/spoken.ts';
import { html, type SafeHtml } from '../pages/html.ts';
import { pageOf } from '../pages/layout.ts';
import { type FieldFault, type Form, textIn } from './answer-form.ts';
import { type LinkSubject, shownDays } from './link-subject.ts';
import { speakerFor } from './speaker.ts';

/** What the page of a link needs beside the facts. */
export interface FormState {
  readonly token: string;
  readonly mark: string;
  /** Whether an answer was just kept. */
  readonly kept: boolean;
  /** Whether the answer that was just sent came too late for what it was about. */
  readonly changed: boolean;
  /** What is wrong with the answer that was just sent; empty: nothing. */
  readonly faults: readonly FieldFault[];
  /** What was just sent, to fill the fields again. */
  readonly given: Form;
}

const CLOSED: Readonly<Record<ClosedBecause, string>> = {
  'called-off': 'This was called off. You need not do anything.',
  done: 'This is done. Nothing more is asked of you.',
  begun:
    'The first day has come, so an answer here would be read too late. Please telephone if anything has changed.',
};

/** A whole page of a link. */
export function linkPage(title: string, subject: LinkSubject, state: FormState, body: SafeHtml): string {
  const { closed, season } = subject;
  const main = html`${state.kept && html`<p class="done" role="status">Your answer is kept. ${season.head.organisationName} will see it. Thank you.</p>`}
${
  state.changed &&
  html`<div class="caution" role="alert"><p><strong>Your answer was not kept.</strong> What is asked has changed since you opened the page. Please look at it as it stands now${closed === null && ', and answer again'}.</p></div>`
}
${faultList(state)}
${closed && html`<p class="caution"><strong>${CLOSED[closed]}</strong></p>`}
${body}
<p class="small">This page is for ${subject.reader.name} alone: whoever has its address can answer. It was sent by ${season.head.organisationName}.${season.head.isDemo && ' It is a demonstration: all firms, people and sites are invented.'}</p>`;
  return pageOf(title, main, state.faults.length > 0 ? `Please mend: ${title}` : title);
}

function faultList({ faults }: FormState): SafeHtml | false {
  return (
    faults.length > 0 &&
    html`<div class="caution" role="alert"><p><strong>Nothing was kept yet. Please mend this and send it again:</strong></p>
<ul>${faults.map((fault) => html`<li><a href="#${fault.field}">${fault.message}</a></li>`)}</ul></div>`
  );
}

/** The opening of a form that answers by this link. */
export const formStart = (subject: LinkSubject, state: FormState, about: string): SafeHtml =>
  html`<form method="post" action="/l/${state.token}" novalidate>
<input type="hidden" name="mark" value="${state.mark}"><input type="hidden" name="about" value="${about}"><input type="hidden" name="shown" value="${shownDays(subject)}">`;

/** What is wrong with a field, beside it, and the attributes that tie the two together. */
export function faultAt(state: FormState, field: string): { words: SafeHtml | false; tie: SafeHtml | false } {
  const fault = state.faults.find((found) => found.field === field);
  if (!fault) return { words: false, tie: false };
  const id = `${field}-fault`;
  return {
    words: html`<span class="caution fault" id="${id}">${fault.message}</span>`,
    tie: html` aria-invalid="true" aria-describedby="${id}"`,
  };
}

export interface FieldParams {
  readonly id: string;
  readonly label: string;
  readonly type: 'text' | 'date' | 'number' | 'lines';
  readonly max?: number;
  /** What stands in it at first. */
  readonly value?: string | null;
}

/** A field with its label. */
export function field(state: FormState, params: FieldParams): SafeHtml {
  const { id, label, type, max } = params;
  const { words, tie } = faultAt(state, id);
  const value = (textIn(state.given, id) ?? params.value ?? '').slice(0, 2000);
  const limit = max !== undefined && html` maxlength="${max}"`;
  const input =
    type === 'lines'
      ? html`<textarea id="${id}" name="${id}" rows="3"${limit}${tie}>${value && `\n${value}`}</textarea>`
      : html`<input id="${id}" name="${id}" type="${type === 'date' ? 'date' : 'text'}"${type === 'number' && html` inputmode="decimal" autocomplete="off"`}${limit}${tie} value="${value}">`;
  return html`<p><label for="${id}">${label}</label>${words}${input}</p>`;
}

export interface Choice {
  readonly value: string;
  readonly label: string;
  /** Fields that belong to this choice. */
  readonly more?: SafeHtml;
}

/** One choice among several, as `answer`. */
export function choices(
  state: FormState,
  params: { readonly legend: string; readonly choices: readonly Choice[]; readonly chosen: string | null },
): SafeHtml {
  const { words, tie } = faultAt(state, 'answer');
  const chosen = textIn(state.given, 'answer') ?? params.chosen;
  return html`<fieldset id="answer" tabindex="-1"${tie}><legend>${params.legend}</legend>${words}
${params.choices.map(
  ({ value, label, more }) =>
    html`<label class="choice"><input type="radio" name="answer" value="${value}"${value === chosen && html` checked`}><span>${label}</span></label>${more}`,
)}
</fieldset>`;
}

/** Where the site is. */
export function placeOf({ visit }: LinkSubject): SafeHtml {
  const { site } = visit;
  return html`${site.name}${site.address && html`<br>${site.address}`}<br><span class="small">${site.lat.toFixed(5)}, ${site.lon.toFixed(5)}</span>`;
}

/** The speaker of a page, in the reader's own kind of English. */
export const speakerOf = (subject: LinkSubject) => speakerFor(subject.reader.language);

/** A moment in the time of the site, with the name of the zone. */
export const momentAt = (subject: LinkSubject, at: Instant): string =>
  sayMoment(speakerOf(subject), at, subject.visit.site.zone);

/** Words of caution as a list. */
export const cautionList = (cautions: readonly string[]): SafeHtml =>
  html`<div class="caution"><ul>${cautions.map((caution) => html`<li>${caution}</li>`)}</ul></div>`;
