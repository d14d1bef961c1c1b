import type { Problem } from '../../../../libs/contracts/src/errors/problem.ts';
import { html } from './html.ts';
import { pageOf } from './layout.ts';

/** A problem as a page for people. */
export function problemPage(problem: Problem): string {
  return pageOf(
    problem.title,
    html`${problem.detail !== problem.title && html`<p>${problem.detail}</p>`}
${problem.errors && html`<ul>${problem.errors.map((fault) => html`<li>${fault.message} ${fault.expected && html`(expected: ${fault.expected})`}</li>`)}</ul>`}
<p class="next"><strong>What to do:</strong> ${problem.nextStep}</p>
<p class="small">If you ask for help, quote ${problem.instance}.</p>`,
  );
}
