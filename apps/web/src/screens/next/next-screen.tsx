import { type ReactNode, useState } from 'react';
import { api, type Schema, take } from '../../api/client.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { longDate } from '../../format/dates.ts';
import { zonedTime } from '../../format/times.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Said } from '../../parts/said.tsx';
import { Link } from '../../route/route.tsx';
import { useSeason } from '../../shell/season-scope.tsx';
import { newestDraft } from '../plans/newest-draft.ts';
import { NextAction } from './next-action.tsx';
import { kindWords, LIFTING_KINDS } from './next-words.ts';

type Item = Schema<'WhatNextItem'>;

/** What needs the manager, the most pressing first, each with what can be done about it. */
export function NextScreen(): ReactNode {
  const { season } = useSeason();
  const key = season.row.key;
  const [said, setSaid] = useState('');
  const next = useLoaded(`what-next ${key}`, (signal) =>
    take(api.GET('/api/v1/what-next', { params: { query: { season: key } }, signal })),
  );
  const draft = useWaitingDraft(key);
  const done = (words: string): void => {
    setSaid(words);
    next.reload();
  };
  return (
    <>
      <h1>What next</h1>
      <p className="lead">What waits for you in this season, the most pressing first.</p>
      <Said words={said} />
      {draft && <DraftWaits draft={draft} />}
      <Loading from={next} what="what needs you">
        {({ asOf, items, more }) => (
          <>
            {items.length === 0 ? (
              draft === null && <NothingWaits />
            ) : (
              <ul className="todo-list">
                {items.map((item) => (
                  <NextItem key={`${item.kind} ${item.subjectId}`} item={item} onDone={done} />
                ))}
              </ul>
            )}
            <MoreThere more={more} />
            {items.some((item) => LIFTING_KINDS.has(item.kind)) && <Caution about={['lifting', 'wind']} />}
            <div className="row-of-buttons">
              <button
                type="button"
                className="button button-plain"
                disabled={next.busy}
                onClick={next.reload}
              >
                Look again
              </button>
              <span className="muted small">As of {zonedTime(asOf, season.row.zone)}</span>
            </div>
          </>
        )}
      </Loading>
    </>
  );
}

/** Before the first publishing nobody has been told of anything; the draft is then the next thing to look at. */
function useWaitingDraft(season: string): Schema<'PlanInfo'> | null {
  const plans = useLoaded(`plans of ${season} for what next`, async (signal) => {
    const params = { path: { season }, query: { limit: 200 } };
    return (await take(api.GET('/api/v1/seasons/{season}/plans', { params, signal }))).items;
  });
  if (plans.data?.some(({ status }) => status === 'published')) return null;
  return newestDraft(plans.data ?? []);
}

function DraftWaits({ draft }: { draft: Schema<'PlanInfo'> }): ReactNode {
  return (
    <Notice kind="warn">
      <p>
        Plan no. {draft.number} is a draft and nothing is published: nobody has been told of any date.{' '}
        <Link to={`/plans/${draft.id}`}>Look at it, then publish it</Link>
      </p>
    </Notice>
  );
}

function NothingWaits(): ReactNode {
  return (
    <Notice kind="info">
      <p>
        Nothing that the program knows of waits for you. It cannot know what nobody has told it: see the{' '}
        <Link to="/sheet">season sheet</Link> for the days ahead, or <Link to="/plans">plan the season</Link>.
      </p>
    </Notice>
  );
}

function MoreThere({ more }: { more: Readonly<Record<string, number>> }): ReactNode {
  const entries = Object.entries(more).filter(([, number]) => number > 0);
  if (entries.length === 0) return null;
  return (
    <p className="muted">
      Not listed yet:{' '}
      {entries.map(([kind, number]) => `${number} more under “${kindWords(kind)}”`).join(', ')}. They come up
      when those above are settled.
    </p>
  );
}

function NextItem({ item, onDone }: { item: Item; onDone: (words: string) => void }): ReactNode {
  const { file } = useSeason();
  const job = item.job && file.data ? file.data.names.of('job', item.job) : item.job;
  return (
    <li className="next-item">
      <div>
        <p className="small muted plain-face">
          {kindWords(item.kind)}
          {item.dueOn && <> · to be settled by {longDate(item.dueOn)}</>}
        </p>
        <p className="todo-head">{item.title}</p>
        <p>
          {item.nextStep} {item.job && <Link to={`/jobs/${encodeURIComponent(item.job)}`}>Job: {job}</Link>}
        </p>
      </div>
      <div>
        <NextAction item={item} onDone={onDone} />
      </div>
    </li>
  );
}
