import type { ReactNode } from 'react';
import { count } from '../../format/counts.ts';
import { daysFromTo, longDate, shortDate, spanWords } from '../../format/dates.ts';
import { lateDays, type SheetModel } from './sheet-model.ts';

interface Props {
  readonly model: SheetModel;
  readonly chosenJob: string | null;
  readonly onChoose: (job: string) => void;
}

/** The same as the sheet, as a table: for a phone, for those who do not see the drawing, and for reading aloud. */
export function SheetList({ model, chosenJob, onChoose }: Props): ReactNode {
  const rows = model.sites
    .flatMap((site) =>
      site.jobs.map((job) => ({ site, job, start: job.visit?.days[0]?.date ?? '9999-12-31' })),
    )
    .sort((a, b) => (a.start < b.start ? -1 : a.start > b.start ? 1 : 0));
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls, also by keyboard
    <section className="scroll-x" aria-label="Season as a list" tabIndex={0}>
      <table className="cards">
        <caption>Visits by start, then jobs without one</caption>
        <thead>
          <tr>
            <th scope="col">Job</th>
            <th scope="col">Visit</th>
            <th scope="col">Crew</th>
            <th scope="col">Reserve days</th>
            <th scope="col">Goods</th>
            <th scope="col">Lift</th>
            <th scope="col">Site ready</th>
            <th scope="col">Promised by</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ site, job }) => {
            const { visit } = job;
            const late = lateDays(job, daysFromTo);
            return (
              <tr key={job.key}>
                <th scope="row">
                  <button
                    type="button"
                    className="as-link"
                    aria-pressed={chosenJob === job.key}
                    onClick={() => onChoose(job.key)}
                  >
                    {job.title}
                  </button>
                  <div className="small muted">{site.name}</div>
                </th>
                <td data-head="Visit">
                  {visit
                    ? spanWords(visit.days[0]?.date as string, visit.days.at(-1)?.date as string)
                    : '▲ not planned'}
                </td>
                <td data-head="Crew">{visit?.crewName ?? 'none'}</td>
                <td data-head="Reserve days">
                  {visit
                    ? visit.reserve.length === 0
                      ? 'none'
                      : visit.reserve.map(shortDate).join(', ')
                    : 'none'}
                </td>
                <td data-head="Goods">{visit?.deliveryDay ? shortDate(visit.deliveryDay) : 'none'}</td>
                <td data-head="Lift">{visit?.lift?.name ?? 'none'}</td>
                <td data-head="Site ready">{shortDate(job.siteReadyFrom)}</td>
                <td data-head="Promised by">
                  {job.promisedBy ? longDate(job.promisedBy) : 'no promise'}
                  {late !== null && late > 0 && <strong> ▲ {count(late, 'day')} late</strong>}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
