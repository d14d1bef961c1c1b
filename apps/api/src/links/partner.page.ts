import type { LocalDate } from '../../../../libs/kernel/src/index.ts';
import { sayDay, sayDays, sayTime, sayZone } from '../../../../libs/messages/src/spoken.ts';
import { html, type SafeHtml } from '../pages/html.ts';
import { NOTE_MAX, REFERENCE_MAX } from './answer-form.ts';
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
import { cautionWords } from './speaker.ts';
import { groundWords, known, laterTime, obstacleWords, USUAL_START } from './visit-words.ts';

type Lift = SubjectOf<'liftHold'>;
type Run = SubjectOf<'deliveryRun'>;
type Partner = Lift | Run;

/** Lorries come in the first part of the working day. Common practice, not a published figure. */
const DELIVERY_WINDOW_MIN = 240;

/** The page by which a partner confirms, proposes another day, or declines. */
export function partnerPage(subject: Partner, state: FormState): string {
  const lift = subject.kind === 'liftHold';
  const { name } = subject.visit.site;
  const title = lift ? `Can you supply the lift? ${name}` : `Can you bring the goods? ${name}`;
  const { electricity, ...hazards } = { electricity: subject.visit.site.overheadLines !== 'no', lift };
  const cautions = [
    ...(hazards.lift ? cautionWords('lifting', 'wind') : cautionWords('lifting', 'driving')),
    ...(electricity ? [obstacleWords(subject.visit.site)] : []),
  ];
  const body = html`<p>Hello ${subject.reader.name}.</p>
${answerSoFar(subject)}
<h2>What we need</h2>
<dl>
<dt>Where</dt><dd>${placeOf(subject)}</dd>
${lift ? liftFacts(subject) : runFacts(subject)}
</dl>
<h2>Please read</h2>
${cautionList(cautions)}
${subject.closed === null && answerForm(subject, state)}`;
  return linkPage(title, subject, state, body);
}

function answerSoFar(subject: Partner): SafeHtml {
  const { last } = subject;
  const state = subject.kind === 'liftHold' ? subject.hold.state : subject.run.state;
  const details = last && [
    last.proposedDay && html`<br>First day: ${sayDay(speakerOf(subject), last.proposedDay)}`,
    last.reference && html`<br>Your reference: ${last.reference}`,
    last.note && html`<br>Your note: ${last.note}`,
  ];
  const said = (words: string) =>
    html`<p class="done">Your answer: <strong>${words}</strong>${last && html` (${momentAt(subject, last.at)})`}${details}</p>`;
  if (state === 'confirmed') return said('confirmed');
  const waits = state === 'needed' || state === 'asked' || state === 'held';
  if (last?.answer === 'declined' && (state === 'declined' || state === 'needed'))
    return said('you cannot do it');
  if (last?.answer === 'proposed' && waits) return said('another day would suit; we have not settled it yet');
  return waits ? html`<p>You have not answered yet.</p>` : html``;
}

const startOf = (subject: Partner): string => subject.season.head.workdayStart ?? USUAL_START;

function atTime(subject: Partner, date: LocalDate, time: string): string {
  const speaker = speakerOf(subject);
  return `${sayTime(speaker, time)} (${sayZone(speaker, subject.visit.site.zone, date, time)})`;
}

function liftFacts(subject: Lift): SafeHtml {
  const { hold, visit } = subject;
  const heights = visit.kits.flatMap((kit) => (kit.liftHeightM === null ? [] : [kit.liftHeightM]));
  const heaviest = visit.kits.length === 0 ? null : Math.max(...visit.kits.map((kit) => kit.heaviestPartKg));
  return html`<dt>Lift</dt><dd>${hold.name} (${hold.typeName})</dd>
<dt>When</dt><dd>${sayDays(speakerOf(subject), hold.fromDay, hold.toDay)}${visit.reserveDays.some((day) => day >= hold.fromDay && day <= hold.toDay) && ', days in reserve for weather included'}</dd>
<dt>Ready to work at</dt><dd>${atTime(subject, hold.fromDay, startOf(subject))}</dd>
<dt>Heaviest part</dt><dd>${known(heaviest, 'kg')}</dd>
<dt>Reach from the machine</dt><dd>${known(hold.workingRadiusM, 'm')}</dd>
<dt>Hook height</dt><dd>${known(heights.length === 0 ? null : Math.max(...heights), 'm')}</dd>
<dt>Gust at which we stop</dt><dd>${hold.maxGustMps === null ? 'not known yet; the lower of your machine’s and our load’s limit will hold' : `${hold.maxGustMps} m/s`}</dd>
<dt>Ground</dt><dd>${groundWords(visit.site)}</dd>
<dt>In the way</dt><dd>${obstacleWords(visit.site)}${visit.site.accessNotes && html`<br>${visit.site.accessNotes}`}</dd>`;
}

function runFacts(subject: Run): SafeHtml {
  const { run, visit } = subject;
  const { site, warehouse } = visit;
  const unloading =
    run.truckKind === 'craneTruck'
      ? 'with the truck’s own crane'
      : site.forkliftOnSite === 'yes'
        ? 'from a flatbed, by the forklift on site'
        : 'not settled yet: a flatbed needs a forklift on site, and there is none that we know of; please ask';
  const start = startOf(subject);
  const end = laterTime(start, DELIVERY_WINDOW_MIN);
  return html`<dt>Goods</dt><dd>${
    visit.kits.length > 0
      ? html`<ul>${visit.kits.map((kit) => html`<li>${kit.count} × ${kit.name}: ${kit.count * kit.massKg} kg in all, on ${Math.max(1, kit.pallets) * kit.count} pallets, heaviest part ${kit.heaviestPartKg} kg, longest part ${kit.longestPartM === null ? 'not known yet' : `${kit.longestPartM} m`}</li>`)}</ul>`
      : 'not named yet; please ask before you choose the truck'
  }</dd>
<dt>Collect from</dt><dd>${warehouse ? html`${warehouse.name}${warehouse.address && html`, ${warehouse.address}`}` : 'not settled yet; please ask'}</dd>
<dt>Arrive on</dt><dd>${sayDay(speakerOf(subject), run.day)}, between ${sayTime(speakerOf(subject), start)} and ${atTime(subject, run.day, end)}</dd>
<dt>Unloading</dt><dd>${unloading}</dd>
<dt>Way in</dt><dd>${site.gateWidthM === null ? 'width of the gate not known' : `gate ${site.gateWidthM} m wide`}${site.accessNotes && html`; ${site.accessNotes}`}</dd>`;
}

function answerForm(subject: Partner, state: FormState): SafeHtml {
  const { last } = subject;
  const speaker = speakerOf(subject);
  return html`<h2>${last ? 'Change your answer' : 'Your answer'}</h2>
${formStart(subject, state, subject.kind)}
${choices(state, {
  legend: 'Can you do it?',
  chosen: null,
  choices: [
    { value: 'accepted', label: `Yes, we confirm ${sayDays(speaker, subject.firstDay, subject.lastDay)}` },
    {
      value: 'proposed',
      label: 'On another day',
      more: field(state, { id: 'proposedDay', type: 'date', label: 'First day that would suit' }),
    },
    { value: 'declined', label: 'No, we cannot' },
  ],
})}
${field(state, { id: 'reference', type: 'text', max: REFERENCE_MAX, label: 'Your reference (optional)', value: last?.reference ?? null })}
${field(state, { id: 'note', type: 'lines', max: NOTE_MAX, label: 'If you cannot: the reason. Otherwise: anything we should know (optional)' })}
<p class="actions"><button type="submit">Send the answer</button></p>
</form>
<p class="small">You can change your answer here until ${sayDay(speaker, subject.firstDay)} begins. After that, please telephone.</p>`;
}
