import { html, type SafeHtml } from '../pages/html.ts';
import { pageOf } from '../pages/layout.ts';
import { spokenDate, spokenSpan } from '../pages/spoken.ts';
import { type FormState, formStart, noteField, noticesOf, placeOf, radio } from './link-parts.ts';
import type { LinkSubject } from './link-subject.ts';

/** The page by which a partner confirms, proposes another day, or declines. */
export function partnerPage(
  subject: LinkSubject & { kind: 'liftHold' | 'deliveryRun' },
  state: FormState,
): string {
  const lift = subject.kind === 'liftHold';
  const title = lift ? `${subject.hold.name}: can you supply it?` : 'A delivery: can you bring it?';
  const body = html`${noticesOf(subject, state)}
<dl>
<dt>Where</dt><dd>${placeOf(subject)}</dd>
${lift ? liftFacts(subject) : runFacts(subject)}
<dt>So far</dt><dd>${stateWords(subject)}</dd>
</dl>
<p class="caution">Lifting and wind: these figures are planning aids. Your load chart, your operator and the site on the day decide.</p>
${
  subject.closed === null &&
  html`${formStart(state, subject.kind)}
<fieldset><legend>Your answer</legend>
${radio('answer', 'accepted', 'We confirm', false)}
${radio('answer', 'proposed', 'We can do it on another day:', false)}
<p><label for="proposedDay">First day</label><input type="date" id="proposedDay" name="proposedDay"></p>
${radio('answer', 'declined', 'We cannot do it', false)}
</fieldset>
<p><label for="reference">Your reference</label><input type="text" id="reference" name="reference" maxlength="200"></p>
${noteField('Anything we should know')}
<p class="actions"><button type="submit">Send the answer</button></p>
</form>
<p class="small">You can change your answer here until the first day.</p>`
}`;
  return pageOf(title, body);
}

function liftFacts({ hold }: LinkSubject & { kind: 'liftHold' }): SafeHtml {
  return html`<dt>What</dt><dd>${hold.name} (${hold.typeName})</dd>
<dt>When</dt><dd>${spokenSpan(hold.fromDay, hold.toDay)}, the last days for weather</dd>
<dt>Wind limit</dt><dd>${hold.maxGustMps === null ? 'not known to us: please tell us' : `${hold.maxGustMps} m/s in gusts, as far as we know`}</dd>`;
}

function runFacts({ run, visit }: LinkSubject & { kind: 'deliveryRun' }): SafeHtml {
  const unloading =
    run.truckKind === 'craneTruck'
      ? 'a truck with its own crane'
      : visit.site.forkliftOnSite === 'yes'
        ? 'a flatbed; a forklift is on site'
        : 'a flatbed; whether a forklift can unload there is not settled, so ask before you come';
  return html`<dt>What</dt><dd>${visit.kits.map((kit) => html`${kit.count} × ${kit.name}, ${kit.massKg} kg on ${kit.pallets} pallets each, heaviest part ${kit.heaviestPartKg} kg<br>`)}</dd>
<dt>From</dt><dd>${visit.warehouse ? html`${visit.warehouse.name}${visit.warehouse.address && html`, ${visit.warehouse.address}`}` : 'to be told'}</dd>
<dt>Arrive on</dt><dd>${spokenDate(run.day)}</dd>
<dt>With</dt><dd>${unloading}</dd>
${visit.site.accessNotes && html`<dt>Access</dt><dd>${visit.site.accessNotes}</dd>`}`;
}

const STATES: Readonly<Record<string, string>> = {
  needed: 'not answered',
  asked: 'not answered',
  held: 'held, not confirmed',
  confirmed: 'confirmed',
  declined: 'declined',
  off: 'called off',
  done: 'done',
};

function stateWords(subject: LinkSubject & { kind: 'liftHold' | 'deliveryRun' }): string {
  return STATES[subject.kind === 'liftHold' ? subject.hold.state : subject.run.state] ?? 'not answered';
}
