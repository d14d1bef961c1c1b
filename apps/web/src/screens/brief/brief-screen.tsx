import type { ReactNode } from 'react';
import { Loading } from '../../parts/loading.tsx';
import { Link } from '../../route/route.tsx';
import { useSeason } from '../../shell/season-scope.tsx';
import { BriefView } from './brief-view.tsx';
import { evidenceAddress, useBrief } from './use-brief.ts';

/** The brief of one visit on a screen of its own. */
export function BriefScreen({ visitId }: { readonly visitId: string }): ReactNode {
  const { season } = useSeason();
  const key = season.row.key;
  const brief = useBrief(key, visitId);
  return (
    <>
      <h1>{brief.data ? `Go or hold: ${brief.data.visit.title}` : 'Go or hold'}</h1>
      <Loading from={brief} what="the brief">
        {(data) => (
          <>
            <p>
              {data.visit.siteName}.{' '}
              <Link to={`/sheet?job=${encodeURIComponent(data.visit.job)}`}>See it on the season sheet</Link>{' '}
              ·{' '}
              <Link
                to={`/weather/odds?${new URLSearchParams({ site: data.visit.site, work: `job:${data.visit.job}` })}`}
              >
                Odds of the year
              </Link>
            </p>
            <BriefView head="h2" brief={data} evidenceAt={evidenceAddress(key, visitId)} />
            <button
              type="button"
              className="button button-plain"
              disabled={brief.busy}
              onClick={brief.reload}
            >
              Look again
            </button>
          </>
        )}
      </Loading>
    </>
  );
}
