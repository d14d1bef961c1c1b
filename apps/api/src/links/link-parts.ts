import type { ClosedBecause } from '../../../../libs/data/src/link-answer.ts';
import { html, type SafeHtml } from '../pages/html.ts';
import type { LinkSubject } from './link-subject.ts';

/** What the form of a link page needs beside the facts. */
export interface FormState {
  readonly token: string;
  readonly mark: string;
  /** Whether an answer was just kept. */
  readonly kept: boolean;
  /** What was wrong with the answer that was just sent; empty: nothing. */
  readonly faults: readonly string[];
}

const CLOSED: Readonly<Record<ClosedBecause, string>> = {
  'called-off': 'This was called off. You need not do anything.',
  done: 'This is done. Thank you.',
  begun: 'It has begun, or is about to, so an answer here would be read too late. Please telephone.',
};

/** The lines above the facts: what was kept, what was wrong, whether it is too late. */
export function noticesOf(subject: LinkSubject, state: FormState): SafeHtml {
  const { closed, season } = subject;
  return html`${state.kept && html`<p class="done" role="status">Your answer is kept and the firm will see it. Thank you.</p>`}
${
  state.faults.length > 0 &&
  html`<div class="caution" role="alert"><p><strong>Nothing more was kept. Please mend this and send it again:</strong></p><ul>${state.faults.map((fault) => html`<li>${fault}</li>`)}</ul></div>`
}
${closed && html`<p class="caution">${CLOSED[closed]}</p>`}
${season.head.isDemo && html`<p class="small">This is a demonstration: all firms, people and sites are invented.</p>`}`;
}

/** The opening of a form that answers by this link. */
export const formStart = (state: FormState, what: string): SafeHtml =>
  html`<form method="post" action="/l/${state.token}"><input type="hidden" name="mark" value="${state.mark}"><input type="hidden" name="what" value="${what}">`;

/** A box for words of one's own. */
export const noteField = (label: string, id = 'note'): SafeHtml =>
  html`<p><label for="${id}">${label}</label><textarea id="${id}" name="${id}" rows="3" maxlength="1000"></textarea></p>`;

/** One choice among several. */
export const radio = (name: string, value: string, label: string, checked: boolean): SafeHtml =>
  html`<label><input type="radio" name="${name}" value="${value}"${checked && html` checked`} required> ${label}</label>`;

/** Where the site is. */
export function placeOf({ visit }: LinkSubject): SafeHtml {
  const { site } = visit;
  return html`${site.name}${site.address && html`<br>${site.address}`}<br><span class="small">${site.lat.toFixed(5)}, ${site.lon.toFixed(5)}</span>`;
}
