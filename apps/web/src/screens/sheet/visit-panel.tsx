import { type ReactNode, useEffect, useRef } from 'react';
import { api, take } from '../../api/client.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { count } from '../../format/counts.ts';
import { daysFromTo, longDate, shortDate, spanWords } from '../../format/dates.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { State } from '../../parts/state.tsx';
import { Link } from '../../route/route.tsx';
import { visitKindWords } from '../../words/message-words.ts';
import { money } from '../../words/money.ts';
import { BriefGlance } from '../brief/brief-glance.tsx';
import { outsideWords } from './season-sheet.tsx';
import { lateDays, type SheetJob, type SheetModel, type SheetSite } from './sheet-model.ts';

interface Props {
  readonly model: SheetModel;
  readonly site: SheetSite;
  readonly job: SheetJob;
  /** The published visit of the job; null: this is a draft, or there is none. */
  readonly visitId: string | null;
  readonly season: string;
  readonly onClose: () => void;
}

/** Everything about one job of the sheet, in words. */
export function VisitPanel({ model, site, job, visitId, season, onClose }: Props): ReactNode {
  const heading = useRef<HTMLHeadingElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another job moves the focus to its heading
  useEffect(() => heading.current?.focus(), [job.key]);
  const { visit } = job;
  const late = lateDays(job, daysFromTo);
  return (
    <section className="visit-panel plain-face" aria-labelledby="visit-panel-head">
      <h2 id="visit-panel-head" ref={heading} tabIndex={-1}>
        {job.title}
      </h2>
      <dl className="facts">
        <dt>Site</dt>
        <dd>
          {site.name} ({site.zone})
        </dd>
        <dt>Kind</dt>
        <dd>{visitKindWords(job.visitKind)}</dd>
        <dt>Site ready from</dt>
        <dd>{longDate(job.siteReadyFrom)}</dd>
        <dt>Promised by</dt>
        <dd>{job.promisedBy ? longDate(job.promisedBy) : 'nothing was promised'}</dd>
        <dt>Still open</dt>
        <dd>
          {job.openMusts === 0
            ? 'nothing that must be ready first'
            : `${count(job.openMusts, 'item')} that must be ready first`}
        </dd>
      </dl>
      {visitId && visit?.days.some(({ outside }) => outside !== false) && (
        <BriefGlance season={season} visitId={visitId} />
      )}
      {visit ? <Stay visit={visit} late={late} model={model} /> : <NotPlanned job={job} />}
      {visitId && <Answers visitId={visitId} />}
      <div className="row-of-buttons">
        <Link to={`/jobs/${encodeURIComponent(job.key)}`} className="button button-plain button-small">
          Open the job
        </Link>
        <button type="button" className="button button-plain button-small" onClick={onClose}>
          Close
        </button>
      </div>
      <Caution about={visit?.lift ? ['lifting', 'wind', 'driving'] : ['wind', 'driving']} />
    </section>
  );
}

function NotPlanned({ job }: { job: SheetJob }): ReactNode {
  return (
    <>
      <h3>Not planned</h3>
      {job.whyNot.length > 0 ? (
        <ul className="tight">
          {job.whyNot.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      ) : (
        <p>No plan with this job is shown.</p>
      )}
    </>
  );
}

interface StayProps {
  readonly visit: NonNullable<SheetJob['visit']>;
  readonly late: number | null;
  readonly model: SheetModel;
}

function Stay({ visit, late, model }: StayProps): ReactNode {
  const sum = visit.costLines.reduce((total, line) => total + line.cents, 0);
  return (
    <>
      <h3>The visit</h3>
      <dl className="facts">
        <dt>Days</dt>
        <dd>
          <ul>
            {visit.days.map((day) => (
              <li key={day.date}>
                {longDate(day.date)}: {outsideWords(day.outside)}
                {day.hours !== null && `, ${day.hours} h`}
              </li>
            ))}
          </ul>
        </dd>
        <dt>Reserve</dt>
        <dd>{visit.reserve.length === 0 ? 'no day held back' : visit.reserve.map(shortDate).join(', ')}</dd>
        {late !== null && (
          <>
            <dt>Promise</dt>
            <dd>{late === 0 ? 'kept if no day is lost' : `missed by ${count(late, 'day')}`}</dd>
          </>
        )}
        <dt>Crew</dt>
        <dd>
          {visit.crewName}, {visit.fromBase ? 'from its base' : 'straight from the visit before'}
        </dd>
        <dt>People</dt>
        <dd>
          <ul>
            {visit.people.map((person) => (
              <li key={person.name}>
                {person.name} ({person.note})
              </li>
            ))}
          </ul>
        </dd>
        <dt>Lift</dt>
        <dd>
          {visit.lift
            ? `${visit.lift.name}${visit.lift.days.length > 0 ? `, ${visit.lift.days.map(shortDate).join(', ')}` : ''}; held through the reserve days`
            : 'none in this plan'}
        </dd>
        <dt>Own equipment</dt>
        <dd>{visit.equipment.length > 0 ? visit.equipment.join(', ') : 'none asked for'}</dd>
        <dt>Goods at the site</dt>
        <dd>{visit.deliveryDay ? longDate(visit.deliveryDay) : 'no goods'}</dd>
      </dl>
      <h3>What keeps it from being earlier</h3>
      {visit.why.length > 0 ? (
        <ol className="tight">
          {visit.why.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ol>
      ) : (
        <p>The plan does not say.</p>
      )}
      <h3>Cost lines of this job</h3>
      {visit.costLines.length > 0 ? (
        <table>
          <tbody>
            {visit.costLines.map((line) => (
              <tr key={line.words}>
                <th scope="row">{line.words}</th>
                <td className="number">{money(line.cents, model.currency)}</td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">Sum</th>
              <td className="number">{money(sum, model.currency)}</td>
            </tr>
          </tfoot>
        </table>
      ) : (
        <p>None of its own; driving, nights and lift hire are counted by crew and by lift.</p>
      )}
    </>
  );
}

/** Who has said what about a published visit. */
function Answers({ visitId }: { visitId: string }): ReactNode {
  const visit = useLoaded(`visit ${visitId}`, (signal) =>
    take(api.GET('/api/v1/visits/{visitId}', { params: { path: { visitId } }, signal })),
  );
  return (
    <>
      <h3>Who has answered</h3>
      <Loading from={visit} what="the answers">
        {({ people, lifts, deliveryRuns, cautions }) => (
          <>
            <ul className="tight">
              {people.map((person) => (
                <li key={`${person.key} ${person.role}`}>
                  {person.name}, {spanWords(person.fromDay, person.toDay)}:{' '}
                  <State of="assignment" state={person.state} />
                </li>
              ))}
              {lifts.map((lift) => (
                <li key={lift.id}>
                  {lift.name}, {spanWords(lift.fromDay, lift.toDay)}: <State of="hold" state={lift.state} />,
                  gust limit {lift.maxGustMps === null ? 'not known' : `${lift.maxGustMps} m/s`}
                </li>
              ))}
              {deliveryRuns.map((run) => (
                <li key={run.id}>
                  Truck, {longDate(run.day)}: <State of="hold" state={run.state} />
                </li>
              ))}
            </ul>
            {cautions.map((words) => (
              <p key={words} className="small">
                △ {words}
              </p>
            ))}
          </>
        )}
      </Loading>
    </>
  );
}
