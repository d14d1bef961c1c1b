import { type FormEvent, type ReactNode, useId, useState } from 'react';
import { api, ifMatch, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { allPages } from '../../api/use-pages.ts';
import { longDate } from '../../format/dates.ts';
import { Loading } from '../../parts/loading.tsx';
import { State } from '../../parts/state.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { useSeason } from '../../shell/season-scope.tsx';
import { responsibleWords } from '../../words/message-words.ts';

interface Props {
  readonly job: string;
  /** Words that hold the title of the one item that is meant; null: all items of the job. */
  readonly only: string | null;
  readonly onDone: (words: string) => void;
}

/** What must be ready before a visit, item by item, with accept and return. */
export function JudgeItems({ job, only, onDone }: Props): ReactNode {
  const { season, refresh } = useSeason();
  const key = season.row.key;
  const items = useLoaded(`readiness ${key} ${job}`, (signal) =>
    allPages((cursor) =>
      take(
        api.GET('/api/v1/seasons/{season}/readiness-items', {
          params: { path: { season: key }, query: { job, limit: 200, cursor } },
          signal,
        }),
      ),
    ),
  );
  const done = (words: string): void => {
    items.reload();
    refresh();
    onDone(words);
  };
  return (
    <Loading from={items} what="what must be ready">
      {(all) => {
        const meant = only === null ? all : all.filter(({ row }) => only.includes(row.title));
        const shown = meant.length > 0 ? meant : all;
        if (shown.length === 0) return <p>Nothing is asked for before this visit.</p>;
        return (
          <ul className="todo-list">
            {shown.map((record) => (
              <ReadinessItem key={record.row.key} record={record} season={key} onDone={done} />
            ))}
          </ul>
        );
      }}
    </Loading>
  );
}

type ItemRecord = Awaited<ReturnType<typeof readRecord>>;
const readRecord = (season: string, job: string, key: string) =>
  take(
    api.GET('/api/v1/seasons/{season}/readiness-items/{job}/{key}', {
      params: { path: { season, job, key } },
    }),
  );

interface ItemProps {
  readonly record: ItemRecord;
  readonly season: string;
  readonly onDone: (words: string) => void;
}

function ReadinessItem({ record, season, onDone }: ItemProps): ReactNode {
  const { row, version } = record;
  const id = useId();
  const [remark, setRemark] = useState('');
  const [returning, setReturning] = useState(false);
  const judge = useAction(async (as: 'accepted' | 'returned') => {
    await take(
      api.POST('/api/v1/seasons/{season}/readiness-items/{job}/{key}/judgement', {
        params: { path: { season, job: row.job, key: row.key }, header: ifMatch(version) },
        body: { as, remark: remark.trim() === '' ? null : remark.trim() },
      }),
    );
    setReturning(false);
    onDone(`${as === 'accepted' ? 'Accepted' : 'Returned'}: ${row.title}`);
  });
  const giveBack = (event: FormEvent): void => {
    event.preventDefault();
    void judge.run('returned');
  };
  return (
    <li>
      <p className="todo-head">{row.title}</p>
      <p className="small">
        <State of="readiness" state={row.state} /> {row.mustBeTrue && 'The visit may not start without it. '}
        Seen to by: {responsibleWords(row.responsible)}. {measured(row)}
        {row.doneOn && ` Said to be ready on ${longDate(row.doneOn)}.`}
        {row.expectedOn && !row.doneOn && ` Expected on ${longDate(row.expectedOn)}.`}
      </p>
      {row.remark && <p className="small">Remark: {row.remark}</p>}
      {(row.state === 'claimed' || row.state === 'open' || row.state === 'refused') && (
        <div className="row-of-buttons">
          <button
            type="button"
            className="button button-plain button-small"
            disabled={judge.busy}
            onClick={() => judge.run('accepted')}
          >
            Accept<span className="unseen">: {row.title}</span>
          </button>
          {row.state === 'claimed' && (
            <button
              type="button"
              className="button button-plain button-small"
              aria-expanded={returning}
              onClick={() => setReturning(!returning)}
            >
              Return …<span className="unseen">: {row.title}</span>
            </button>
          )}
        </div>
      )}
      {returning && (
        <form onSubmit={giveBack}>
          <div className="field">
            <label htmlFor={id}>What is missing?</label>
            <textarea
              id={id}
              required
              maxLength={1000}
              rows={3}
              value={remark}
              onChange={(event) => setRemark(event.target.value)}
            />
          </div>
          <button type="submit" className="button button-small" disabled={judge.busy}>
            Return it
          </button>
        </form>
      )}
      <TroubleNotice trouble={judge.trouble} />
    </li>
  );
}

function measured(row: ItemRecord['row']): string {
  if (row.evidence !== 'number') return '';
  const unit = row.unit ?? '';
  const limits =
    row.toleranceLow != null || row.toleranceHigh != null
      ? ` (passes from ${row.toleranceLow ?? 'any'} to ${row.toleranceHigh ?? 'any'} ${unit})`
      : ' (no limit is known)';
  return row.value == null ? `No value yet${limits}.` : `Value: ${row.value} ${unit}${limits}.`;
}
