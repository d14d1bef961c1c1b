import { type FormEvent, type ReactNode, useId, useState } from 'react';
import { api, ifMatch, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';
import { pinWords } from './jobs-screen.tsx';

interface Props {
  readonly job: SeasonData['file']['jobs'][number];
  readonly data: SeasonData;
  readonly onDone: (words: string) => void;
}

/** Holds a job on a day, with a crew, or both, so that the next plan keeps it there. */
export function PinForm({ job, data, onDone }: Props): ReactNode {
  const { season, refresh } = useSeason();
  const id = useId();
  const [start, setStart] = useState(job.pinnedStart ?? '');
  const [crew, setCrew] = useState(job.pinnedCrew ?? '');
  const [reason, setReason] = useState(job.pinReason ?? '');
  const path = { season: season.row.key, job: job.key };
  const version = async (): Promise<number> =>
    (
      await take(
        api.GET('/api/v1/seasons/{season}/jobs/{key}', {
          params: { path: { season: path.season, key: job.key } },
        }),
      )
    ).version;
  const pin = useAction(async () => {
    await take(
      api.PUT('/api/v1/seasons/{season}/pins/{job}', {
        params: { path, header: ifMatch(await version()) },
        body: { start: start || null, crew: crew || null, reason: reason.trim() || null },
      }),
    );
    refresh();
    onDone('Pinned. The next plan keeps it.');
  });
  const free = useAction(async () => {
    await take(
      api.DELETE('/api/v1/seasons/{season}/pins/{job}', {
        params: { path, header: ifMatch(await version()) },
      }),
    );
    setStart('');
    setCrew('');
    setReason('');
    refresh();
    onDone('The pin is out. The next plan may move the job.');
  });
  const pinned = job.pinnedStart != null || job.pinnedCrew != null;
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    void pin.run();
  };
  return (
    <form onSubmit={submit}>
      <p>Pinned now: {pinWords(job, data)}.</p>
      <div className="filters">
        <div className="field">
          <label htmlFor={`${id}-start`}>Start</label>
          <input
            id={`${id}-start`}
            type="date"
            min={data.file.season.firstDay}
            max={data.file.season.lastDay}
            value={start}
            onChange={(event) => setStart(event.target.value)}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-crew`}>Crew</label>
          <select id={`${id}-crew`} value={crew} onChange={(event) => setCrew(event.target.value)}>
            <option value="">any</option>
            {data.file.crews.map((one) => (
              <option key={one.key} value={one.key}>
                {one.name}
              </option>
            ))}
          </select>
        </div>
        <div className="field">
          <label htmlFor={`${id}-reason`}>Why</label>
          <input
            id={`${id}-reason`}
            type="text"
            maxLength={500}
            value={reason}
            onChange={(event) => setReason(event.target.value)}
          />
        </div>
        <button type="submit" className="button" disabled={pin.busy || (start === '' && crew === '')}>
          Pin
        </button>
        {pinned && (
          <button
            type="button"
            className="button button-plain"
            disabled={free.busy}
            onClick={() => free.run()}
          >
            Take the pin out
          </button>
        )}
      </div>
      <TroubleNotice trouble={pin.trouble ?? free.trouble} />
    </form>
  );
}
