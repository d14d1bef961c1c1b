import type { ReactNode } from 'react';
import { longDate } from '../../format/dates.ts';
import { Link } from '../../route/route.tsx';
import { ADVICE, percent } from '../../words/brief-words.ts';
import { AdviceWord } from './advice-word.tsx';
import { useBrief } from './use-brief.ts';

/** The advice for a visit at a glance, beside other things that are known of it; the rest is on its own screen. */
export function BriefGlance({
  season,
  visitId,
}: {
  readonly season: string;
  readonly visitId: string;
}): ReactNode {
  const { data, trouble } = useBrief(season, visitId);
  return (
    <>
      <h3>Go or hold</h3>
      {!data && !trouble && <p className="muted">Loading the brief …</p>}
      {trouble && (
        <p>
          ? No brief can be shown: {trouble.detail} {trouble.nextStep}
        </p>
      )}
      {data && (
        <>
          <p className="advice-line">
            <AdviceWord advice={data.advice} /> <span>for {longDate(data.visit.day)}</span>
          </p>
          <p>
            {ADVICE[data.advice].meaning} Odds of a good day:{' '}
            {data.odds === null ? '? not known' : percent(data.odds.goodChance)}.{' '}
            {data.forecast.state === 'missing' && 'There is no forecast. '}
            {data.forecast.state === 'stale' && 'The forecast is too old. '}
            <Link to={`/briefs/${encodeURIComponent(visitId)}`}>See why, both costs and the limits</Link>
          </p>
        </>
      )}
    </>
  );
}
