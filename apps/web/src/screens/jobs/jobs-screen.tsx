import { type ReactNode, useState } from 'react';
import { count } from '../../format/counts.ts';
import { longDate, shortDate } from '../../format/dates.ts';
import { Loading } from '../../parts/loading.tsx';
import { SearchField } from '../../parts/search-field.tsx';
import { Link } from '../../route/route.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';
import { visitKindWords } from '../../words/message-words.ts';

/** All jobs of the season, with what is still open before each. */
export function JobsScreen(): ReactNode {
  const { file } = useSeason();
  const [text, setText] = useState('');
  return (
    <>
      <h1>Jobs</h1>
      <SearchField label="Find a job, a site or a customer" text={text} onChange={setText} />
      <Loading from={file} what="the jobs">
        {(data) => <JobTable data={data} text={text} />}
      </Loading>
    </>
  );
}

function JobTable({ data, text }: { data: SeasonData; text: string }): ReactNode {
  const { file, names } = data;
  const siteOf = new Map(file.sites.map((site) => [site.key, site]));
  const wanted = text.trim().toLowerCase();
  const rows = file.jobs.filter((job) => {
    const site = siteOf.get(job.site);
    const customer = site ? names.of('customer', site.customer) : '';
    return `${job.key} ${job.title} ${site?.name ?? ''} ${customer}`.toLowerCase().includes(wanted);
  });
  return (
    <>
      <p className="muted small" role="status">
        {count(rows.length, 'job')}.
      </p>
      <div className="scroll-x">
        <table className="cards">
          <caption className="unseen">Jobs</caption>
          <thead>
            <tr>
              <th scope="col">Job</th>
              <th scope="col">Kind</th>
              <th scope="col">Site ready from</th>
              <th scope="col">Promised by</th>
              <th scope="col">Published start</th>
              <th scope="col">Pinned</th>
              <th scope="col">Must be ready first</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((job) => (
              <tr key={job.key}>
                <th scope="row">
                  <Link to={`/jobs/${encodeURIComponent(job.key)}`}>{job.title}</Link>
                  <div className="small muted">{names.of('site', job.site)}</div>
                </th>
                <td data-head="Kind">{visitKindWords(job.visitKind)}</td>
                <td data-head="Site ready from">{shortDate(job.siteReadyFrom)}</td>
                <td data-head="Promised by">{job.promisedBy ? longDate(job.promisedBy) : 'no promise'}</td>
                <td data-head="Published start">
                  {job.publishedStart
                    ? `${longDate(job.publishedStart)}${job.publishedCrew ? `, ${names.of('crew', job.publishedCrew)}` : ''}`
                    : 'none'}
                </td>
                <td data-head="Pinned">{pinWords(job, data)}</td>
                <td data-head="Must be ready first">{readyWords(job.key, data)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

type Job = SeasonData['file']['jobs'][number];

/** Where a job is pinned, in words. */
export function pinWords(job: Job, { names }: SeasonData): string {
  const parts = [
    job.pinnedStart ? shortDate(job.pinnedStart) : null,
    job.pinnedCrew ? names.of('crew', job.pinnedCrew) : null,
  ].filter((part) => part !== null);
  return parts.length === 0 ? 'no' : parts.join(', ');
}

function readyWords(job: string, { file }: SeasonData): string {
  const musts = file.readinessItems.filter((item) => item.job === job && item.mustBeTrue);
  if (musts.length === 0) return 'nothing is asked for';
  const open = musts.filter((item) => item.state !== 'accepted' && item.state !== 'waived');
  const claimed = open.filter((item) => item.state === 'claimed').length;
  if (open.length === 0) return `✓ all ${musts.length} accepted`;
  return `○ ${open.length} of ${musts.length} open${claimed > 0 ? `, ${claimed} said to be ready` : ''}`;
}
