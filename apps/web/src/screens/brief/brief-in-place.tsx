import type { ReactNode } from 'react';
import { Loading } from '../../parts/loading.tsx';
import { BriefView } from './brief-view.tsx';
import { useBrief } from './use-brief.ts';

/** The whole brief of a visit, opened where the visit stands; the evidence is for the manager. */
export function BriefInPlace({
  season,
  visitId,
}: {
  readonly season: string;
  readonly visitId: string;
}): ReactNode {
  const brief = useBrief(season, visitId);
  return (
    <Loading from={brief} what="the brief">
      {(data) => <BriefView head="h3" brief={data} evidenceAt={null} />}
    </Loading>
  );
}
