import type { ReactNode } from 'react';
import type { MorningBrief } from '../../../../../libs/contracts/src/http/brief-schema.ts';
import { clockTime } from '../../format/times.ts';
import { limitWords } from '../../words/brief-words.ts';

/** Which steps have the limit, by the keys that the season gives them. */
const stepWords = (steps: readonly string[]): string =>
  steps.map((step) => step.replaceAll('-', ' ')).join(', ');

/** Silence of the runs is not a limit that holds. */
function noneWords({ odds }: MorningBrief): string {
  const runs = odds?.members ?? null;
  if (runs === null || runs.good + runs.bad === 0)
    return '? No forecast within its reach speaks of these hours, so nobody can say whether a limit will be broken.';
  const silent = runs.unknown === 0 ? '' : ` ${runs.unknown} more do not say.`;
  return `None of the ${runs.good + runs.bad} runs of the forecast breaks a limit of wind, rain or temperature in working hours.${silent}`;
}

/** Which limits the forecast breaks in working hours, and when; without a forecast nothing is said to hold. */
export function BrokenLimits({
  brief,
  head: Head,
}: {
  readonly brief: MorningBrief;
  readonly head: 'h2' | 'h3';
}): ReactNode {
  const { limits, visit } = brief;
  if (limits.length === 0) {
    return (
      <>
        <Head>Limits</Head>
        <p>{noneWords(brief)}</p>
      </>
    );
  }
  return (
    <div className="scroll-x">
      <table className="cards">
        <caption>Limits that the forecast breaks in working hours</caption>
        <thead>
          <tr>
            <th scope="col">Limit</th>
            <th scope="col">Allowed</th>
            <th scope="col">Middle of the runs</th>
            <th scope="col">Worst</th>
            <th scope="col">First at</th>
            <th scope="col">Hours</th>
            <th scope="col">Runs</th>
          </tr>
        </thead>
        <tbody>
          {limits.map((limit) => {
            const { name, allowed, middle, worst } = limitWords(limit);
            return (
              <tr key={`${limit.limit} ${limit.limitValue} ${limit.steps.join()}`}>
                <th scope="row">
                  {name}
                  <span className="small muted limit-steps">{stepWords(limit.steps)}</span>
                </th>
                <td data-head="Allowed">{allowed}</td>
                <td data-head="Middle of the runs">{middle}</td>
                <td data-head="Worst">{worst}</td>
                <td data-head="First at">{clockTime(limit.firstHour, visit.zone)}</td>
                <td data-head="Hours">{limit.hours}</td>
                <td data-head="Runs">
                  {limit.members} of {limit.ofMembers}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
