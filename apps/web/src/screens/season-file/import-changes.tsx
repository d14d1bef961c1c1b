import type { ReactNode } from 'react';
import { Notice } from '../../parts/notice.tsx';
import type { ImportReport } from './send-file.ts';

const SEASON_WORDS = {
  added: 'This is a new season.',
  changed: 'The head of the season changes.',
  unchanged: 'The head of the season stays as it is.',
} as const;

/** What a season file would add, change and take away, table by table. */
export function ImportChanges({ report }: { readonly report: ImportReport }): ReactNode {
  const touched = Object.entries(report.tables).filter(
    ([, change]) => change.added.length + change.changed.length + change.removed.length > 0,
  );
  return (
    <>
      <p>
        Season {report.season}. {SEASON_WORDS[report.seasonState]}
      </p>
      {report.notes.length > 0 && (
        <Notice kind="warn">
          <ul className="tight">
            {report.notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </Notice>
      )}
      {touched.length === 0 ? (
        <p>No row would change.</p>
      ) : (
        <div className="scroll-x">
          <table className="cards">
            <caption>Rows by table</caption>
            <thead>
              <tr>
                <th scope="col">Table</th>
                <th scope="col">Added</th>
                <th scope="col">Changed</th>
                <th scope="col">Removed</th>
                <th scope="col" className="number">
                  Unchanged
                </th>
              </tr>
            </thead>
            <tbody>
              {touched.map(([table, change]) => (
                <tr key={table}>
                  <th scope="row">{table}</th>
                  <td data-head="Added">
                    <Keys keys={change.added} />
                  </td>
                  <td data-head="Changed">
                    <Keys keys={change.changed} />
                  </td>
                  <td data-head="Removed">
                    <Keys keys={change.removed} />
                  </td>
                  <td data-head="Unchanged" className="number">
                    {change.unchanged}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </>
  );
}

function Keys({ keys }: { keys: readonly string[] }): ReactNode {
  if (keys.length === 0) return 'none';
  if (keys.length <= 3) return keys.join(', ');
  return (
    <details>
      <summary>{keys.length}</summary>
      <p className="small">{keys.join(', ')}</p>
    </details>
  );
}
