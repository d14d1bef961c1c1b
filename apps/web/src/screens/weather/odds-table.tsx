import { type ReactNode, useState } from 'react';
import { dateOfAnyYear, monthOfAnyYear } from '../../format/dates.ts';
import { percent } from '../../words/brief-words.ts';
import {
  daysWords,
  goodOf,
  type MonthOfOdds,
  monthsOf,
  type OddsCalendar,
  rangeWords,
  shareWords,
  UNKNOWN,
} from './odds-words.ts';

/** The 366 dates of the year as tables, a month each. */
export function OddsTable({ calendar }: { readonly calendar: OddsCalendar }): ReactNode {
  return (
    <>
      <h2>Date by date</h2>
      <p className="small muted">
        Of a month the mean of its dates. “Good” is the share of days on which the first outside day’s work
        could be closed; 19 times out of 20 it lies in the range beside it.
      </p>
      {monthsOf(calendar.rows, monthOfAnyYear).map((month) => (
        <Month key={month.month} month={month} reserveConfidence={calendar.reserveConfidence} />
      ))}
    </>
  );
}

interface MonthProps {
  readonly month: MonthOfOdds;
  readonly reserveConfidence: number;
}

function Month({ month, reserveConfidence }: MonthProps): ReactNode {
  const [open, setOpen] = useState(false);
  return (
    <details className="difference" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {month.month}: {shareWords(month.goodShare)} good; days lost on average: {daysWords(month.lostMean)}
      </summary>
      {open && <Dates month={month} reserveConfidence={reserveConfidence} />}
    </details>
  );
}

function Dates({ month, reserveConfidence }: MonthProps): ReactNode {
  const hold = `Days to hold back for ${percent(reserveConfidence)}`;
  return (
    <div className="scroll-x">
      <table className="cards">
        <caption className="unseen">Odds of the dates of {month.month}</caption>
        <thead>
          <tr>
            <th scope="col">Date</th>
            <th scope="col">Good</th>
            <th scope="col">Range</th>
            <th scope="col">Days lost, mean</th>
            <th scope="col">4 of 5 lose at most</th>
            <th scope="col">{hold}</th>
            <th scope="col">Latest start</th>
            <th scope="col">Years</th>
          </tr>
        </thead>
        <tbody>
          {month.rows.map((row) => (
            <tr key={row.date}>
              <th scope="row">{dateOfAnyYear(row.date)}</th>
              <td data-head="Good">{shareWords(goodOf(row))}</td>
              <td data-head="Range">{rangeWords(row)}</td>
              <td data-head="Days lost, mean">{daysWords(row.lostMean)}</td>
              <td data-head="4 of 5 lose at most">
                {daysWords(row.lostP80)}
                {row.hopelessShare !== null &&
                  row.hopelessShare > 0 &&
                  `; ${percent(row.hopelessShare)} do not come to an end`}
              </td>
              <td data-head={hold}>{daysWords(row.reserveDays)}</td>
              <td data-head="Latest start">
                {row.latestStart ?? (row.knownDays === 0 ? UNKNOWN : '– no good day')}
              </td>
              <td data-head="Years">{row.years}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
