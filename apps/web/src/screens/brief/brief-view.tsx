import type { ReactNode } from 'react';
import type { MorningBrief } from '../../../../../libs/contracts/src/http/brief-schema.ts';
import { longDate } from '../../format/dates.ts';
import { clockTime, zonedTime } from '../../format/times.ts';
import { Caution } from '../../parts/caution.tsx';
import { Notice } from '../../parts/notice.tsx';
import {
  ADVICE,
  costParts,
  costWords,
  oddsWords,
  percent,
  reasonWords,
  ruleWords,
} from '../../words/brief-words.ts';
import { money } from '../../words/money.ts';
import { AdviceWord } from './advice-word.tsx';
import { BrokenLimits } from './broken-limits.tsx';

interface Props {
  readonly brief: MorningBrief;
  /** Address of the table of evidence: the forecast as issued, what came, and the limits; null: not for this reader. */
  readonly evidenceAt: string | null;
  /** Which heads its parts have: one below the head that it stands under. */
  readonly head: 'h2' | 'h3';
}

/** Go or hold for the first outside day of a visit, with everything that it rests on. */
export function BriefView({ brief, evidenceAt, head: Head }: Props): ReactNode {
  const { visit, advice, odds, reasons, deadline, deadlinesUnknown, latestStart, unknown } = brief;
  const zone = visit.zone;
  const time = (instant: string): string => clockTime(instant, zone);
  return (
    <>
      <p className="advice-line">
        <AdviceWord advice={advice} /> <span>for {longDate(visit.day)}</span>
      </p>
      <p>{ADVICE[advice].meaning}</p>
      <Notice kind="caution">
        <p>
          Whatever this says: on the day the competent person on site decides, from the wind measured at the
          height of the load and the maker’s chart.
        </p>
      </Notice>
      <ForecastLine brief={brief} />
      <Head>Why</Head>
      <ul className="tight">
        {reasons.map((reason) => (
          <li key={reason.code}>{reasonWords(reason)}</li>
        ))}
        <li>{ruleWords(brief)}</li>
      </ul>
      <Head>What it rests on</Head>
      <dl className="facts">
        <dt>Odds of a good day</dt>
        <dd>
          <strong>{odds === null ? '? not known' : percent(odds.goodChance)}</strong>
          {odds && (
            <ul>
              {oddsWords(odds).map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          )}
        </dd>
        <Cost title="A failed start costs" side={brief.failedStart} currency={visit.currency} />
        <Cost title="Holding costs" side={brief.holding} currency={visit.currency} />
        <dt>Decide by</dt>
        <dd>
          {deadline === null
            ? '? no last moment is known'
            : `${zonedTime(deadline.at, zone)}: ${deadline.what}`}
          {deadline?.past &&
            `. This moment is over; calling off now costs ${deadline.feeCents === null ? 'a fee that is not known' : money(deadline.feeCents, visit.currency)}`}
          {deadlinesUnknown.length > 0 && `. Not known for: ${deadlinesUnknown.join(', ')}`}
        </dd>
        <dt>Latest workable start</dt>
        <dd>
          {latestStart === null
            ? '? not known'
            : `${time(latestStart.middle)}; in the least good of ${latestStart.members} good runs ${time(latestStart.earliest)}`}
        </dd>
        <dt>Work is planned</dt>
        <dd>
          {visit.shiftFrom} to {visit.shiftTo} ({zone}), crew {visit.crew}
        </dd>
        <dt>Sun</dt>
        <dd>
          {brief.sunrise === null || brief.sunset === null
            ? 'see what is not known'
            : `${time(brief.sunrise)} to ${time(brief.sunset)}`}
        </dd>
      </dl>
      <BrokenLimits brief={brief} head={Head} />
      {unknown.length > 0 && (
        <>
          <Head>Assumed, or not known</Head>
          <ul className="tight">
            {unknown.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </>
      )}
      <p className="small muted">Made {zonedTime(brief.madeAt, zone)}.</p>
      {evidenceAt !== null && (
        <p>
          <a className="button button-plain button-small" href={evidenceAt} download>
            Save the evidence (CSV)<span className="unseen">: {visit.title}</span>
          </a>
        </p>
      )}
      <Caution about={['wind', 'lifting', 'height', 'driving']} />
    </>
  );
}

function Cost({
  title,
  side,
  currency,
}: {
  title: string;
  side: MorningBrief['holding'];
  currency: string;
}): ReactNode {
  return (
    <>
      <dt>{title}</dt>
      <dd>
        {costWords(side, currency)}
        {side.parts.length > 0 && (
          <details>
            <summary>
              Part by part<span className="unseen">: {title}</span>
            </summary>
            <ul>
              {costParts(side, currency).map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </details>
        )}
      </dd>
    </>
  );
}

/** Where the forecast comes from and how old it is; that there is none is never left out. */
function ForecastLine({ brief }: { brief: MorningBrief }): ReactNode {
  const { forecast, visit } = brief;
  const { state, source, issuedAt, heardAt, ageHours, fault } = forecast;
  const fromWhere = source === null ? '' : ` from ${source}`;
  return (
    <>
      {state === 'fresh' && issuedAt !== null && (
        <p>
          Forecast of {zonedTime(issuedAt, visit.zone)}
          {fromWhere}
          {ageHours !== null && `, ${ageHours} hours old`}.
        </p>
      )}
      {state === 'stale' && (
        <Notice kind="warn">
          <p>
            No forecast{fromWhere} since {zonedTime(heardAt ?? issuedAt ?? brief.madeAt, visit.zone)}
            {ageHours !== null && `; the one at hand is ${ageHours} hours old`}. What follows rests on older
            words.
          </p>
        </Notice>
      )}
      {state === 'missing' && (
        <Notice kind="warn">
          <p>There is no forecast for this site and day.</p>
        </Notice>
      )}
      {fault && <p>The last try to fetch a forecast failed: {fault}</p>}
    </>
  );
}
