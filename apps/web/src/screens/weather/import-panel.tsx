import { type ReactNode, useId } from 'react';
import { api, take } from '../../api/client.ts';
import { useRowEvents } from '../../api/use-row-events.ts';
import { count } from '../../format/counts.ts';
import { zonedTime } from '../../format/times.ts';
import { Notice } from '../../parts/notice.tsx';
import { State } from '../../parts/state.tsx';
import { BadLines } from './bad-lines.tsx';
import { fractionOf, resultWords, sizeWords, spokenProgress } from './import-words.ts';
import type { WeatherImport } from './send-weather-file.ts';

interface Props {
  readonly season: string;
  readonly zone: string;
  readonly first: WeatherImport;
  /** Name of the station or site. */
  readonly placeName: string;
  readonly onEnded: () => void;
  /** Sends the same file once more, its bad lines left out; null where this page no longer has the file. */
  readonly onKeepGood: (() => void) | null;
  readonly busy: boolean;
}

/** The reading of one weather file as it goes, and all that came of it. */
export function ImportPanel({ season, zone, first, placeName, onEnded, onKeepGood, busy }: Props): ReactNode {
  const id = useId();
  const path = { season, importId: first.id };
  const { row: run, live } = useRowEvents({
    first,
    eventsAt: `/api/v1/seasons/${encodeURIComponent(season)}/weather-imports/${encodeURIComponent(first.id)}/events`,
    ask: () => take(api.GET('/api/v1/seasons/{season}/weather-imports/{importId}', { params: { path } })),
    onEnded,
  });
  const fraction = fractionOf(run);
  const underWay = run.finishedAt === null;
  const keptGood = run.options['keepGood'] === true;
  return (
    <li>
      <section aria-labelledby={id}>
        <h3 className="first-head" id={id}>
          {run.fileName} <State of="weatherImport" state={run.state} />
        </h3>
        <p className="small muted">
          For {run.target} {placeName}, sent by {run.requestedBy}, {zonedTime(run.createdAt, zone)}
          {run.bytesTotal !== null && `, ${sizeWords(run.bytesTotal)}`}
        </p>
        {underWay && (
          <>
            <progress
              aria-label="How much of the file is read"
              max={1}
              {...(fraction === null ? {} : { value: fraction })}
            />
            <p className="plain-face">
              {run.state === 'receiving' && 'It is on its way to the server.'}
              {run.state === 'queued' && 'It waits to be read.'}
              {run.state === 'running' && `${count(run.linesDone, 'line')} read.`}
              {!live && ' Not live at the moment; the page asks every few seconds.'}
            </p>
          </>
        )}
        <p className="unseen" role="status">
          {spokenProgress(run)}
        </p>
        {run.result && (
          <Notice kind="done">
            {resultWords(run.result, zone).map((words) => (
              <p key={words}>{words}</p>
            ))}
          </Notice>
        )}
        {run.state === 'failed' && (
          <Notice kind="warn">
            <p>Nothing was changed. {run.fault ?? 'The server gave no reason; send the file again.'}</p>
            {run.badLineCount > 0 &&
              !keptGood &&
              (onKeepGood ? (
                <button type="button" className="button button-plain" disabled={busy} onClick={onKeepGood}>
                  Send it again and leave {run.badLineCount === 1 ? 'this line' : 'these lines'} out
                  <span className="unseen">: {run.fileName}</span>
                </button>
              ) : (
                <p>
                  To keep the good lines, choose the file again above and tick “Keep the good lines” under
                  “Bad lines”.
                </p>
              ))}
          </Notice>
        )}
        <BadLines run={run} leftOut={run.state === 'done'} />
        {run.warnings.length > 0 && (
          <Notice kind="warn">
            <p className="notice-head">To be looked at before the record is relied on</p>
            <ul className="tight">
              {run.warnings.map(({ code, words }) => (
                <li key={`${code} ${words}`}>{words}</li>
              ))}
            </ul>
          </Notice>
        )}
      </section>
    </li>
  );
}
