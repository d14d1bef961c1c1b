import { html } from '../pages/html.ts';
import { pageOf } from '../pages/layout.ts';
import { spokenDate, spokenSpan } from '../pages/spoken.ts';
import { cautionsOf } from '../visits/cautions.ts';
import { firstNameOf } from '../visits/visit-view.ts';
import { type FormState, formStart, noteField, noticesOf, placeOf, radio } from './link-parts.ts';
import type { LinkSubject } from './link-subject.ts';

const STATES = {
  asked: 'You have not answered yet.',
  accepted: 'You said yes.',
  declined: 'You said no.',
  cancelled: 'This was called off.',
} as const;

/** The page by which a crew member says yes or no to a visit. */
export function crewPage(subject: LinkSubject & { kind: 'assignment' }, state: FormState): string {
  const { visit, season, assignment } = subject;
  const mates = visit.assignments.filter(
    (other) => other.id !== assignment.id && (other.state === 'asked' || other.state === 'accepted'),
  );
  const bring = [
    ...visit.equipmentHolds.filter((hold) => hold.state === 'held').map((hold) => hold.name),
    'Your tickets (licences and certificates)',
  ];
  const lifts = visit.liftHolds.filter((hold) => hold.state !== 'off' && hold.state !== 'declined');
  const body = html`${noticesOf(subject, state)}
<p>Hello ${firstNameOf(assignment.person.name)}. ${STATES[assignment.state]}</p>
<dl>
<dt>Where</dt><dd>${placeOf(subject)}${visit.site.accessNotes && html`<br>${visit.site.accessNotes}`}</dd>
<dt>When</dt><dd>${visit.work.map((day) => html`${spokenDate(day.day)}, from ${season.head.workdayStart ?? '08:00'} local time (${day.outside ? 'outside' : 'inside'} work, ${day.hours} h)<br>`)}
You are held ${spokenSpan(assignment.fromDay, assignment.toDay)}${visit.reserveDays.length > 0 && html`, which includes ${visit.reserveDays.length} days held back for weather`}.</dd>
<dt>With whom</dt><dd>${mates.length > 0 ? mates.map((mate) => firstNameOf(mate.person.name)).join(', ') : 'Nobody else has been named yet.'}</dd>
<dt>As</dt><dd>${assignment.role === 'casual' ? 'casual hand' : assignment.role}, ${visit.crew.name}</dd>
<dt>Bring</dt><dd>${bring.join(', ')}</dd>
${lifts.length > 0 && html`<dt>Lift on site</dt><dd>${lifts.map((hold) => hold.name).join(', ')}</dd>`}
</dl>
<h2>Cautions</h2>
<ul class="caution">${cautionsOf(visit).map((caution) => html`<li>${caution}</li>`)}</ul>
${
  subject.closed === null &&
  html`<h2>Your answer</h2>
${formStart(state, 'assignment')}
<fieldset><legend>Will you be there?</legend>
${radio('answer', 'accepted', 'Yes, I will be there', assignment.state === 'accepted')}
${radio('answer', 'declined', 'No, I cannot', assignment.state === 'declined')}
</fieldset>
${noteField('If not: why, and when you could (the manager reads this)')}
<p class="actions"><button type="submit">Send the answer</button></p>
</form>
<p class="small">You can change your answer here until the first day.</p>`
}`;
  return pageOf(`${visit.job.title}: will you be there?`, body);
}
