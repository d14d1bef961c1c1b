import { type ReactNode, useEffect, useRef } from 'react';
import type { Trouble } from '../../api/problem.ts';
import { count } from '../../format/counts.ts';

/** A place in a season file, read from a JSON Pointer such as `/body/jobs/3/site`; rows count from 1 as in a sheet of data. */
export function placeOf(pointer: string): { table: string; row: string; column: string } {
  const [table = '', row = '', column = ''] = pointer.replace(/^\/?(?:body\/?)?/, '').split('/');
  const index = /^\d+$/.test(row) ? String(Number(row) + 1) : row;
  return { table: table === '' ? 'the file' : table, row: index, column };
}

/** Every fault of a refused file, where it is and what would be right. */
export function FaultTable({ trouble }: { readonly trouble: Trouble }): ReactNode {
  const heading = useRef<HTMLHeadingElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: new faults are to be read from their head
  useEffect(() => heading.current?.focus(), [trouble]);
  const listed = trouble.faults.length;
  const all = typeof trouble.facts['faults'] === 'number' ? trouble.facts['faults'] : listed;
  return (
    <section aria-labelledby="faults-head">
      <h2 id="faults-head" ref={heading} tabIndex={-1}>
        {count(all, 'fault')}; nothing was changed
      </h2>
      <p>
        {trouble.title} {trouble.nextStep}
        {all > listed && ` The first ${listed} are listed; the others show when these are mended.`}
      </p>
      <div className="scroll-x">
        <table className="cards">
          <caption className="unseen">Faults in the file</caption>
          <thead>
            <tr>
              <th scope="col">Table</th>
              <th scope="col">Row</th>
              <th scope="col">Column</th>
              <th scope="col">What is wrong</th>
              <th scope="col">What would be right</th>
            </tr>
          </thead>
          <tbody>
            {trouble.faults.map((fault, index) => {
              const { table, row, column } = placeOf(fault.where);
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: two faults may be alike in every word
                <tr key={index}>
                  <td data-head="Table">{table}</td>
                  <td data-head="Row">{row}</td>
                  <td data-head="Column">{column}</td>
                  <td data-head="What is wrong">{fault.message}</td>
                  <td data-head="What would be right">{fault.expected ?? ''}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}
