import { type FormEvent, type ReactNode, useId, useRef, useState } from 'react';
import { take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { Notice } from '../../parts/notice.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { sizeWords } from './import-words.ts';
import { sendWeatherFile, type WeatherFileChoice, type WeatherImport } from './send-weather-file.ts';
import { TableFacts } from './table-facts.tsx';
import { placeId, type WeatherPlace } from './weather-places.ts';

/** Larger files are refused by the server; said here before half an hour of sending. */
const MOST_BYTES = 200_000_000;

/** A file that was sent, kept so that it can be sent again another way without choosing it again. */
export interface SentFile {
  readonly run: WeatherImport;
  readonly file: File;
  readonly choice: WeatherFileChoice;
}

/** A wish to send a file that was sent before once more, with other options. */
export interface Again {
  readonly file: File;
  readonly choice: WeatherFileChoice;
}

interface Props {
  readonly season: string;
  readonly places: readonly WeatherPlace[];
  readonly onSent: (sent: SentFile) => void;
}

/** Chooses a weather file, says what it is for, and sends it. */
export function UploadForm({ season, places, onSent }: Props): ReactNode {
  const id = useId();
  const [place, setPlace] = useState('');
  const [file, setFile] = useState<File | null>(null);
  const [keepGood, setKeepGood] = useState(false);
  const [replace, setReplace] = useState(false);
  const [table, setTable] = useState<Readonly<Record<string, string>>>({});
  const upload = useUpload(season, onSent);
  const target = places.find((one) => placeId(one) === place);
  const tooLarge = file !== null && file.size > MOST_BYTES;
  const isEpw = file !== null && /\.epw$/i.test(file.name);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (!target || !file || tooLarge) return;
    const { kind, key } = target;
    void upload.send({ file, choice: { target: kind, key, keepGood, replace, table: isEpw ? {} : table } });
  };
  return (
    <form className="plan-card" onSubmit={submit} aria-labelledby={`${id}-head`}>
      <h2 className="first-head" id={`${id}-head`}>
        Read a weather file in
      </h2>
      <p>
        Hours of past weather: an EPW file, a CSV table, or the reports of an airfield (METAR), one a line.
        The more years, the better the odds. The same file twice changes nothing.
      </p>
      <div className="field">
        <label htmlFor={`${id}-place`}>What the record is for</label>
        <select id={`${id}-place`} required value={place} onChange={(event) => setPlace(event.target.value)}>
          <option value="">choose a station or a site</option>
          <Options label="Weather stations" kind="station" places={places} />
          <Options label="Sites" kind="site" places={places} />
        </select>
      </div>
      <div className="field">
        <label htmlFor={`${id}-file`}>Weather file (EPW, CSV or text)</label>
        <input
          id={`${id}-file`}
          className="chosen-file"
          type="file"
          required
          accept=".epw,.csv,.txt"
          aria-describedby={tooLarge ? `${id}-large` : undefined}
          aria-invalid={tooLarge}
          onChange={(event) => setFile(event.target.files?.[0] ?? null)}
        />
        {tooLarge && (
          <p className="field-fault" id={`${id}-large`}>
            This file has {sizeWords(file.size)}; {sizeWords(MOST_BYTES)} is the most. Split it by years.
          </p>
        )}
      </div>
      <details className="difference">
        <summary>Bad lines, and hours that are there already</summary>
        <label className="choice">
          <input type="checkbox" checked={keepGood} onChange={(event) => setKeepGood(event.target.checked)} />
          Keep the good lines, leave out those that cannot be read
        </label>
        <p className="field-hint">
          Without this, one bad line refuses the whole file. They are listed either way.
        </p>
        <label className="choice">
          <input type="checkbox" checked={replace} onChange={(event) => setReplace(event.target.checked)} />
          Throw away the hours that were there before
        </label>
        <p className="field-hint">
          Without this, the file adds to them: new hours come in, others are corrected, and a missing value
          wipes nothing.
        </p>
      </details>
      {!isEpw && <TableFacts facts={table} onChange={setTable} />}
      <div className="row-of-buttons">
        <button type="submit" className="button" disabled={upload.busy || tooLarge}>
          {upload.busy ? 'Sending …' : 'Read it in'}
        </button>
      </div>
      <UploadProgress upload={upload} />
    </form>
  );
}

function Options({
  label,
  kind,
  places,
}: {
  label: string;
  kind: WeatherPlace['kind'];
  places: readonly WeatherPlace[];
}): ReactNode {
  const own = places.filter((place) => place.kind === kind);
  if (own.length === 0) return null;
  return (
    <optgroup label={label}>
      {own.map((place) => (
        <option key={place.key} value={placeId(place)}>
          {place.name}
        </option>
      ))}
    </optgroup>
  );
}

type Upload = ReturnType<typeof useUpload>;

/** Sends one file at a time and says how far it is. */
export function useUpload(season: string, onSent: (sent: SentFile) => void) {
  const [sent, setSent] = useState<{ bytes: number; of: number } | null>(null);
  const [stopped, setStopped] = useState(false);
  const control = useRef<AbortController | null>(null);
  const sending = useAction(async ({ file, choice }: Again) => {
    const own = new AbortController();
    control.current = own;
    setStopped(false);
    setSent({ bytes: 0, of: file.size });
    try {
      const onProgress = (bytes: number): void =>
        setSent({ bytes: Math.min(bytes, file.size), of: file.size });
      const run = await take(sendWeatherFile({ season, file, choice, onProgress, signal: own.signal }));
      onSent({ run, file, choice });
    } catch (thrown) {
      if (!own.signal.aborted) throw thrown;
      setStopped(true);
    } finally {
      setSent(null);
    }
  });
  const stop = (): void => control.current?.abort();
  return { send: sending.run, busy: sending.busy, trouble: sending.trouble, sent, stopped, stop };
}

/** How far the bytes are on their way, with a way to stop. */
export function UploadProgress({ upload }: { readonly upload: Upload }): ReactNode {
  const { sent, stopped, stop, trouble } = upload;
  const quarter = sent === null || sent.of === 0 ? 0 : Math.floor((sent.bytes / sent.of) * 4) * 25;
  return (
    <>
      {sent && (
        <>
          <progress aria-label="How much of the file is sent" max={Math.max(1, sent.of)} value={sent.bytes} />
          <p className="plain-face">
            {sizeWords(sent.bytes)} of {sizeWords(sent.of)} sent.{' '}
            <button type="button" className="button button-plain button-small" onClick={stop}>
              Stop sending
            </button>
          </p>
        </>
      )}
      <p className="unseen" role="status">
        {sent ? `Sending the file: ${quarter} percent.` : ''}
      </p>
      {stopped && (
        <Notice kind="info">
          <p>Sending was stopped. Nothing was changed.</p>
        </Notice>
      )}
      <TroubleNotice trouble={trouble} />
    </>
  );
}
