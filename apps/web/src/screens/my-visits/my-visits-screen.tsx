import { type ReactNode, useState } from 'react';
import { api, freshKey, type Schema, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { allPages } from '../../api/use-pages.ts';
import { count } from '../../format/counts.ts';
import { longDate, spanWords } from '../../format/dates.ts';
import { AnswerButtons } from '../../parts/answer-buttons.tsx';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Said } from '../../parts/said.tsx';
import { State } from '../../parts/state.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import type { Me } from '../../shell/session.ts';
import { BriefInPlace } from '../brief/brief-in-place.tsx';
import { CalendarAddress } from './calendar-address.tsx';

type Assignment = Schema<'Assignment'>;
type Visit = Schema<'VisitSummary'>;

interface Loaded {
  readonly assignments: readonly Assignment[];
  readonly visits: ReadonlyMap<string, Visit>;
}

/** What a crew member is asked to come to, with the answer and the calendar. */
export function MyVisitsScreen({ me }: { readonly me: Me }): ReactNode {
  const [said, setSaid] = useState('');
  const mine = useLoaded('my visits', loadMine);
  const done = (words: string): void => {
    setSaid(words);
    mine.reload();
  };
  return (
    <>
      <h1>My visits</h1>
      <Said words={said} />
      <Loading from={mine} what="your visits">
        {({ assignments, visits }) => {
          const open = assignments.filter((one) => one.state !== 'cancelled');
          const seasons = [...new Set([...visits.values()].map((visit) => visit.season))];
          return (
            <>
              {open.length === 0 && (
                <p>You are not asked to any visit now. A message comes when that changes.</p>
              )}
              <ul className="todo-list">
                {open.map((one) => (
                  <MyVisit
                    key={one.id}
                    assignment={one}
                    visit={visits.get(one.visitId) ?? null}
                    onDone={done}
                  />
                ))}
              </ul>
              {me.subjectKey &&
                seasons.map((season) => (
                  <CalendarAddress key={season} season={season} person={me.subjectKey as string} />
                ))}
            </>
          );
        }}
      </Loading>
      <Caution about={['lifting', 'wind', 'electricity', 'height', 'driving']} />
    </>
  );
}

async function loadMine(signal: AbortSignal): Promise<Loaded> {
  const [assignments, visits] = await Promise.all([
    allPages((cursor) =>
      take(api.GET('/api/v1/assignments', { params: { query: { limit: 200, cursor } }, signal })),
    ),
    allPages((cursor) =>
      take(api.GET('/api/v1/visits', { params: { query: { limit: 200, cursor } }, signal })),
    ),
  ]);
  return { assignments, visits: new Map(visits.map((visit) => [visit.id, visit])) };
}

interface MyVisitProps {
  readonly assignment: Assignment;
  readonly visit: Visit | null;
  readonly onDone: (words: string) => void;
}

function MyVisit({ assignment, visit, onDone }: MyVisitProps): ReactNode {
  const [open, setOpen] = useState(false);
  const [briefOpen, setBriefOpen] = useState(false);
  const answer = useAction(async (given: 'accepted' | 'declined') => {
    await take(
      api.POST('/api/v1/assignments/{assignmentId}/answer', {
        params: { path: { assignmentId: assignment.id }, header: { 'Idempotency-Key': freshKey() } },
        body: { answer: given, note: null },
      }),
    );
    onDone(
      given === 'accepted'
        ? `Accepted: ${assignment.title}.`
        : `Declined: ${assignment.title}. The office is told.`,
    );
  });
  const about = <span className="unseen">: {assignment.title}</span>;
  return (
    <li>
      <h2 className="first-head">{assignment.title}</h2>
      <p>
        <State of="assignment" state={assignment.state} />
      </p>
      <dl className="facts">
        <dt>Days</dt>
        <dd>{spanWords(assignment.fromDay, assignment.toDay)}</dd>
        <dt>Site</dt>
        <dd>{visit ? `${visit.site.name} (days and times of ${visit.site.zone})` : assignment.site}</dd>
        {visit && (
          <>
            <dt>Work</dt>
            <dd>
              {spanWords(visit.startDay, visit.endDay)}
              {visit.releaseDay > visit.endDay &&
                `, held for bad weather until ${longDate(visit.releaseDay)}`}
            </dd>
            <dt>Crew</dt>
            <dd>{visit.crew.name}</dd>
          </>
        )}
        <dt>You come as</dt>
        <dd>{assignment.role}</dd>
      </dl>
      <div className="row-of-buttons">
        <AnswerButtons
          answer={answer}
          about={assignment.title}
          yes="Accept"
          given={assignment.state === 'accepted' ? 'yes' : assignment.state === 'declined' ? 'no' : null}
        />
        {visit && (
          <button
            type="button"
            className="button button-plain"
            aria-expanded={open}
            onClick={() => setOpen(!open)}
          >
            {open ? 'Close' : 'Where and with whom'}
            {about}
          </button>
        )}
        {visit && assignment.role === 'lead' && (
          <button
            type="button"
            className="button button-plain"
            aria-expanded={briefOpen}
            onClick={() => setBriefOpen(!briefOpen)}
          >
            {briefOpen ? 'Close go or hold' : 'Go or hold'}
            {about}
          </button>
        )}
      </div>
      <TroubleNotice trouble={answer.trouble} />
      {briefOpen && visit && <BriefInPlace season={visit.season} visitId={visit.id} />}
      {open && visit && <VisitFacts visitId={visit.id} />}
    </li>
  );
}

function VisitFacts({ visitId }: { visitId: string }): ReactNode {
  const visit = useLoaded(`visit ${visitId}`, (signal) =>
    take(api.GET('/api/v1/visits/{visitId}', { params: { path: { visitId } }, signal })),
  );
  return (
    <Loading from={visit} what="the visit">
      {({ site, people, lifts, equipment, siteDays, readiness, cautions }) => {
        const missing = readiness.filter(
          (item) => item.mustBeTrue && item.state !== 'accepted' && item.state !== 'waived',
        );
        return (
          <>
            <dl className="facts">
              <dt>Address</dt>
              <dd>
                {site.address ?? 'not known'}; {site.lat}, {site.lon}
              </dd>
              <dt>Way in</dt>
              <dd>{site.accessNotes ?? 'not known'}</dd>
              <dt>Power lines over the work</dt>
              <dd>{site.overheadLines === 'unknown' ? '? not known' : site.overheadLines}</dd>
              <dt>Work</dt>
              <dd>
                {siteDays
                  .map((day) => `${longDate(day.day)}: ${day.outside ? 'outside' : 'inside'}, ${day.hours} h`)
                  .join('; ')}
              </dd>
              <dt>With</dt>
              <dd>
                {people.map((person) => `${person.name}${person.phone ? ` ${person.phone}` : ''}`).join(', ')}
              </dd>
              <dt>Lift</dt>
              <dd>
                {lifts.length === 0
                  ? 'none'
                  : lifts
                      .map(
                        (lift) =>
                          `${lift.name}, gust limit ${lift.maxGustMps === null ? 'not known' : `${lift.maxGustMps} m/s`}`,
                      )
                      .join('; ')}
              </dd>
              <dt>Equipment</dt>
              <dd>{equipment.map((unit) => unit.name).join(', ') || 'none'}</dd>
              <dt>Not ready yet</dt>
              <dd>
                {missing.length === 0
                  ? 'nothing that must be ready first'
                  : `${count(missing.length, 'item')}: ${missing.map((item) => item.title).join('; ')}`}
              </dd>
            </dl>
            {cautions.map((words) => (
              <p key={words} className="small">
                △ {words}
              </p>
            ))}
          </>
        );
      }}
    </Loading>
  );
}
