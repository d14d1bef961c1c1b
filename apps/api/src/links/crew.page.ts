import { sayDay, sayDays, sayTerm, sayTime, sayZone } from '../../../../libs/messages/src/spoken.ts';
import { html, type SafeHtml } from '../pages/html.ts';
import { cautionsOf } from '../visits/cautions.ts';
import { firstNameOf } from '../visits/visit-view.ts';
import { NOTE_MAX } from './answer-form.ts';
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
import { siteDayTimes, USUAL_START } from './visit-words.ts';

type Crew = SubjectOf<'assignment'>;

const ROLES: Readonly<Record<string, string>> = {
  lead: 'lead of the crew',
  hand: 'hand',
  trainee: 'trainee',
  casual: 'casual hand',
};

/** The page by which a crew member says yes or no to a visit. */
export function crewPage(subject: Crew, state: FormState): string {
  const { visit, assignment } = subject;
  const body = html`<p>Hello ${firstNameOf(assignment.person.name)}.</p>
${answerSoFar(subject)}
<h2>The visit</h2>
<dl>
<dt>What</dt><dd>${visit.job.title} (${sayTerm(speakerOf(subject), 'kind', visit.job.visitKind)})</dd>
<dt>Where</dt><dd>${placeOf(subject)}${visit.site.accessNotes && html`<br>${visit.site.accessNotes}`}</dd>
${daysOf(subject)}
${peopleOf(subject)}
${thingsOf(subject)}
</dl>
<h2>Please read before the work</h2>
${cautionList(cautionsOf(visit))}
${subject.closed === null && answerForm(subject, state)}`;
  return linkPage(`Will you be there? ${visit.site.name}`, subject, state, body);
}

/** The answer as it is known now, whichever way it came. */
function answerSoFar(subject: Crew): SafeHtml {
  const { assignment, last } = subject;
  const when = assignment.answeredAt && html` (${momentAt(subject, assignment.answeredAt)})`;
  if (assignment.state === 'accepted')
    return html`<p class="done">Your answer: <strong>yes</strong>${when}</p>`;
  if (assignment.state !== 'declined') return html`<p>You have not answered yet.</p>`;
  const reason = last?.answer === 'declined' && last.note;
  return html`<p class="done">Your answer: <strong>no</strong>${when}${reason && html`<br>Your reason: ${reason}`}</p>`;
}

function daysOf(subject: Crew): SafeHtml {
  const { visit, season, firstDay, lastDay } = subject;
  const speaker = speakerOf(subject);
  const start = season.head.workdayStart ?? USUAL_START;
  const days = siteDayTimes(visit, start, { from: firstDay, to: lastDay });
  const reserve = visit.reserveDays.filter((day) => day >= firstDay && day <= lastDay);
  return html`<dt>When</dt><dd><ul>${days.map(
    (day) =>
      html`<li>${sayDay(speaker, day.date)}, ${sayTime(speaker, day.start)} to ${sayTime(speaker, day.end)}, ${sayTerm(speaker, 'work', day.outside ? 'outside' : 'inside')}</li>`,
  )}</ul>Times of the site: ${sayZone(speaker, visit.site.zone, firstDay, start)}.
You are held ${sayDays(speaker, firstDay, lastDay)}${reserve.length > 0 && html`; of these, days in reserve for weather: ${reserve.map((day) => sayDay(speaker, day)).join('; ')}`}.</dd>`;
}

function peopleOf({ visit, assignment }: Crew): SafeHtml {
  const mates = visit.assignments.filter(
    ({ id, state }) => id !== assignment.id && (state === 'asked' || state === 'accepted'),
  );
  const names = mates.map(
    ({ person, role }) => firstNameOf(person.name) + (role === 'lead' ? ' (lead)' : ''),
  );
  return html`<dt>With whom</dt><dd>${names.length > 0 ? names.join(', ') : 'Nobody else is named yet.'}</dd>
<dt>You come as</dt><dd>${ROLES[assignment.role] ?? assignment.role}, ${visit.crew.name}</dd>`;
}

function thingsOf({ visit }: Crew): SafeHtml {
  const lifts = visit.liftHolds.filter(({ state }) => state !== 'off' && state !== 'declined');
  const bring = visit.equipmentHolds.filter(({ state }) => state === 'held').map(({ name }) => name);
  return html`<dt>Kit</dt><dd>${
    visit.kits.length > 0
      ? html`<ul>${visit.kits.map((kit) => html`<li>${kit.count} × ${kit.name}, heaviest part ${kit.heaviestPartKg} kg</li>`)}</ul>`
      : 'None is named.'
  }</dd>
<dt>Lift</dt><dd>${
    lifts.length > 0
      ? lifts.map(
          (hold) =>
            html`${hold.name} (${hold.typeName}), ${hold.state === 'confirmed' ? 'confirmed' : 'not confirmed yet'}; gust limit ${hold.maxGustMps === null ? 'not known yet' : `${hold.maxGustMps} m/s`}<br>`,
        )
      : 'None is planned.'
  }</dd>
<dt>Bring</dt><dd>${[...bring, 'your tickets (licences and certificates)', 'your own protective equipment'].join(', ')}</dd>`;
}

function answerForm(subject: Crew, state: FormState): SafeHtml {
  const { assignment, last } = subject;
  const chosen = assignment.state === 'accepted' || assignment.state === 'declined' ? assignment.state : null;
  return html`<h2>${chosen === null ? 'Your answer' : 'Change your answer'}</h2>
${formStart(subject, state, 'assignment')}
${choices(state, {
  legend: 'Will you be there?',
  chosen,
  choices: [
    { value: 'accepted', label: 'Yes, I will be there' },
    { value: 'declined', label: 'No, I cannot' },
  ],
})}
${field(state, {
  id: 'note',
  type: 'lines',
  max: NOTE_MAX,
  label: 'If you cannot: the reason. Otherwise: anything we should know (optional)',
  value: chosen === null ? null : (last?.note ?? null),
})}
<p class="actions"><button type="submit">Send the answer</button></p>
</form>
<p class="small">You can change your answer here until ${sayDay(speakerOf(subject), subject.firstDay)} begins. After that, please telephone.</p>`;
}
