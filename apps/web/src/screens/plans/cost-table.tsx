import type { ReactNode } from 'react';
import { money } from '../../words/money.ts';
import { type CostLine, costKindWords, costSubjectWords } from '../../words/plan-words.ts';
import type { SeasonNames } from '../../words/season-names.ts';

interface Props {
  readonly lines: readonly CostLine[];
  readonly totalCents: number;
  readonly currency: string;
  readonly names: SeasonNames;
}

/** The cost lines of a plan by kind, each line on demand, with their sum. */
export function CostTable({ lines, totalCents, currency, names }: Props): ReactNode {
  const kinds = [...new Set(lines.map((line) => line.kind))]
    .map((kind) => ({ kind, own: lines.filter((line) => line.kind === kind) }))
    .map(({ kind, own }) => ({ kind, own, cents: sum(own) }))
    .sort((a, b) => b.cents - a.cents);
  const total = sum(lines);
  return (
    <>
      <div className="scroll-x">
        <table>
          <caption>What the plan costs beside the normal days of the crews</caption>
          <thead>
            <tr>
              <th scope="col">Cost line</th>
              <th scope="col" className="number">
                {currency}
              </th>
            </tr>
          </thead>
          <tbody>
            {kinds.map(({ kind, own, cents }) => (
              <tr key={kind}>
                <th scope="row">
                  <details>
                    <summary>
                      {costKindWords(kind)} <span className="muted">({own.length})</span>
                    </summary>
                    <ul className="tight small">
                      {own.map((line) => (
                        <li key={`${line.job} ${line.crew} ${line.lift} ${line.warehouse}`}>
                          {costSubjectWords(line, names)}: {money(line.cents, currency)}
                        </li>
                      ))}
                    </ul>
                  </details>
                </th>
                <td className="number">{money(cents, currency)}</td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">Sum</th>
              <td className="number">{money(total, currency)}</td>
            </tr>
          </tfoot>
        </table>
      </div>
      {total !== totalCents && (
        <p role="alert">
          ▲ The lines add up to {money(total, currency)}, but the plan says {money(totalCents, currency)}. Do
          not publish it; tell whoever runs the server.
        </p>
      )}
    </>
  );
}

const sum = (lines: readonly CostLine[]): number => lines.reduce((total, line) => total + line.cents, 0);
