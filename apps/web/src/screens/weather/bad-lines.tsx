import type { ReactNode } from 'react';
import { count } from '../../format/counts.ts';
import type { WeatherImport } from './send-weather-file.ts';

interface Props {
  readonly run: WeatherImport;
  /** The file was read in without them. */
  readonly leftOut: boolean;
}

/** The lines of a file that cannot be read: which, why, and what stands there. */
export function BadLines({ run, leftOut }: Props): ReactNode {
  const { badLines, badLineCount, fileName } = run;
  if (badLineCount === 0) return null;
  return (
    <details className="difference" open={badLines.length <= 12}>
      <summary>
        {count(badLineCount, 'line')} that cannot be read{leftOut && ', left out'}
        <span className="unseen"> of {fileName}</span>
      </summary>
      {badLineCount > badLines.length && (
        <p className="small">
          The first {badLines.length} are listed; the others show when these are mended.
        </p>
      )}
      <div className="scroll-x">
        <table className="cards">
          <caption className="unseen">Lines of {fileName} that cannot be read</caption>
          <thead>
            <tr>
              <th scope="col">Line</th>
              <th scope="col">Why</th>
              <th scope="col">What stands there</th>
            </tr>
          </thead>
          <tbody>
            {badLines.map((bad, index) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: one line may be bad in several ways
              <tr key={index}>
                <td data-head="Line">{bad.line}</td>
                <td data-head="Why">{bad.reason}</td>
                <td data-head="What stands there">
                  {bad.value === undefined ? '–' : <code>{bad.value}</code>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
