import { type ReactNode, useState } from 'react';
import { longDate } from '../../format/dates.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Said } from '../../parts/said.tsx';
import { Link } from '../../route/route.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';
import { visitKindWords } from '../../words/message-words.ts';
import { JudgeItems } from './judge-items.tsx';
import { PinForm } from './pin-form.tsx';

/** One job: its dates, its pin, and what must be ready before the visit. */
export function JobScreen({ jobKey }: { readonly jobKey: string }): ReactNode {
  const { file } = useSeason();
  return (
    <>
      <p className="small">
        <Link to="/jobs">← All jobs</Link>
      </p>
      <Loading from={file} what="the job">
        {(data) => <JobView data={data} jobKey={jobKey} />}
      </Loading>
    </>
  );
}

function JobView({ data, jobKey }: { data: SeasonData; jobKey: string }): ReactNode {
  const [said, setSaid] = useState('');
  const { file, names } = data;
  const job = file.jobs.find((row) => row.key === jobKey);
  if (!job) {
    return (
      <>
        <h1>There is no such job</h1>
        <p>It may have been taken out of the season. Choose one from the list.</p>
      </>
    );
  }
  const site = file.sites.find((row) => row.key === job.site);
  return (
    <>
      <h1>{job.title}</h1>
      <Said words={said} />
      <dl className="facts">
        <dt>Kind</dt>
        <dd>{visitKindWords(job.visitKind)}</dd>
        <dt>Site</dt>
        <dd>
          {names.of('site', job.site)}
          {site && ` (${site.zone})`}
        </dd>
        <dt>Customer</dt>
        <dd>{site ? names.of('customer', site.customer) : 'not known'}</dd>
        <dt>Kits</dt>
        <dd>
          {file.jobKits
            .filter((row) => row.job === job.key)
            .map((row) => `${row.count} × ${file.kits.find((kit) => kit.key === row.kit)?.name ?? row.kit}`)
            .join(', ') || 'none'}
        </dd>
        <dt>Site ready from</dt>
        <dd>{longDate(job.siteReadyFrom)}</dd>
        <dt>Promised by</dt>
        <dd>{job.promisedBy ? longDate(job.promisedBy) : 'nothing was promised'}</dd>
        <dt>Published start</dt>
        <dd>
          {job.publishedStart
            ? `${longDate(job.publishedStart)}${job.publishedCrew ? `, crew ${names.of('crew', job.publishedCrew)}` : ''}`
            : 'none'}
        </dd>
        <dt>Notes</dt>
        <dd>{job.notes ?? 'none'}</dd>
      </dl>
      <p>
        <Link to={`/sheet?job=${encodeURIComponent(job.key)}`}>See it on the season sheet</Link>
      </p>
      <h2>Pin</h2>
      <PinForm job={job} data={data} onDone={setSaid} />
      <h2>What must be ready before the visit</h2>
      <JudgeItems job={job.key} only={null} onDone={setSaid} />
      <Caution about={['lifting', 'electricity', 'height']} />
    </>
  );
}
