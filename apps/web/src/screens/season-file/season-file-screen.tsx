import { type ChangeEvent, type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { useAction } from '../../api/use-action.ts';
import { Notice } from '../../parts/notice.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { FaultTable } from './fault-table.tsx';
import { ImportChanges } from './import-changes.tsx';
import { type ImportReport, mediaTypeOf, sendFile } from './send-file.ts';

interface Props {
  readonly season: { readonly key: string; readonly name: string } | null;
  readonly onImported: (season: string) => void;
}

/** Reading a season file (first what it would change, then doing it) and writing one. */
export function SeasonFileScreen({ season, onImported }: Props): ReactNode {
  const id = useId();
  const result = useRef<HTMLHeadingElement>(null);
  const [file, setFile] = useState<File | null>(null);
  const [preview, setPreview] = useState<ImportReport | null>(null);
  const [done, setDone] = useState<ImportReport | null>(null);
  const check = useAction(async (chosen: File) => {
    setPreview(await sendFile(chosen, true));
  });
  const apply = useAction(async (chosen: File) => {
    const report = await sendFile(chosen, false);
    setDone(report);
    setPreview(null);
    onImported(report.season);
  });
  useEffect(() => {
    if (preview) result.current?.focus();
  }, [preview]);
  const choose = (event: ChangeEvent<HTMLInputElement>): void => {
    setFile(event.target.files?.[0] ?? null);
    setPreview(null);
    setDone(null);
    check.clear();
    apply.clear();
  };
  const trouble = check.trouble ?? apply.trouble;
  const readable = file === null || mediaTypeOf(file.name) !== null;
  return (
    <>
      <h1>Season file</h1>
      <p className="lead">
        A season file holds a whole season in tables: sites, jobs, crews, people, goods, lifts. The season of
        the same key becomes equal to the file, all of it or nothing.
      </p>
      {season && <ExportLinks season={season} />}
      <h2>Read a file</h2>
      <div className="field">
        <label htmlFor={`${id}-file`}>Season file (JSON or XLSX, up to 20 MB)</label>
        <input
          id={`${id}-file`}
          className="chosen-file"
          type="file"
          accept=".json,.xlsx,application/json"
          aria-invalid={!readable}
          aria-describedby={readable ? undefined : `${id}-fault`}
          onChange={choose}
        />
        {!readable && (
          <p className="field-fault" id={`${id}-fault`} role="alert">
            This is neither a .json nor an .xlsx file. Save it as one of them and choose it again.
          </p>
        )}
      </div>
      <div className="row-of-buttons">
        <button
          type="button"
          className="button"
          disabled={file === null || !readable || check.busy || apply.busy}
          onClick={() => file && check.run(file)}
        >
          {check.busy ? 'Looking …' : 'Show what would change'}
        </button>
      </div>
      {trouble && trouble.faults.length > 0 ? (
        <FaultTable trouble={trouble} />
      ) : (
        <TroubleNotice trouble={trouble} />
      )}
      <div role="status">
        {done && (
          <Notice kind="done">
            <p>
              The season {done.season} is now as the file says
              {done.seasonState === 'unchanged' ? '; nothing had to change' : ''}. Plan again where jobs,
              crews or dates changed.
            </p>
          </Notice>
        )}
      </div>
      {preview && file && (
        <>
          <h2 ref={result} tabIndex={-1}>
            What would change
          </h2>
          <ImportChanges report={preview} />
          <button type="button" className="button" disabled={apply.busy} onClick={() => apply.run(file)}>
            {apply.busy ? 'Reading it in …' : 'Read it in'}
          </button>
        </>
      )}
    </>
  );
}

function ExportLinks({ season }: { season: { readonly key: string; readonly name: string } }): ReactNode {
  const address = (format: string) =>
    `/api/v1/seasons/${encodeURIComponent(season.key)}/export?format=${format}`;
  return (
    <>
      <h2>Write a file</h2>
      <p>{season.name}, as it is now:</p>
      <div className="row-of-buttons">
        <a className="button button-plain" href={address('json')} download={`${season.key}.json`}>
          Save as JSON
        </a>
        <a className="button button-plain" href={address('xlsx')} download={`${season.key}.xlsx`}>
          Save as a workbook (XLSX)
        </a>
      </div>
    </>
  );
}
