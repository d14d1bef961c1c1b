import { type ReactNode, useState } from 'react';
import { count } from '../../format/counts.ts';
import { spanWords } from '../../format/dates.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { SearchField } from '../../parts/search-field.tsx';
import { Link } from '../../route/route.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';

/** Yes, no, or said to be unknown; nothing else counts as yes. */
const sureWords = (answer: string): string => {
  if (answer === 'yes' || answer === 'no') return answer;
  return '? not known';
};

/** All sites, with what a crew must know before it comes. */
export function SitesScreen(): ReactNode {
  const { file } = useSeason();
  const [text, setText] = useState('');
  return (
    <>
      <h1>Sites</h1>
      <SearchField label="Find a site, an address or a customer" text={text} onChange={setText} />
      <Loading from={file} what="the sites">
        {(data) => <SiteList data={data} text={text} />}
      </Loading>
      <Caution about={['lifting', 'electricity']} />
    </>
  );
}

function SiteList({ data, text }: { data: SeasonData; text: string }): ReactNode {
  const { file, names } = data;
  const wanted = text.trim().toLowerCase();
  const rows = file.sites.filter((site) =>
    `${site.key} ${site.name} ${site.address ?? ''} ${names.of('customer', site.customer)}`
      .toLowerCase()
      .includes(wanted),
  );
  return (
    <>
      <p className="muted small" role="status">
        {count(rows.length, 'site')}.
      </p>
      <ul className="todo-list">
        {rows.map((site) => {
          const closed = file.siteClosedDays.filter((row) => row.site === site.key);
          const jobs = file.jobs.filter((job) => job.site === site.key);
          return (
            <li key={site.key}>
              <h2 className="first-head">{site.name}</h2>
              <dl className="facts">
                <dt>Customer</dt>
                <dd>{names.of('customer', site.customer)}</dd>
                <dt>Where</dt>
                <dd>
                  {site.address ?? 'no address is known'}; {site.lat}, {site.lon}; {site.zone}
                </dd>
                <dt>Way in</dt>
                <dd>
                  {site.accessNotes ?? 'not known'}
                  {site.gateWidthM != null && ` Narrowest width ${site.gateWidthM} m.`}
                </dd>
                <dt>Power lines over the work</dt>
                <dd>{sureWords(site.overheadLines)}</dd>
                <dt>Forklift that can work there</dt>
                <dd>{sureWords(site.forkliftOnSite)}</dd>
                <dt>Ground</dt>
                <dd>
                  {site.groundKind == null || site.groundKind === 'unknown' ? '? not known' : site.groundKind}
                </dd>
                <dt>Closed</dt>
                <dd>
                  {closed.length === 0
                    ? 'no days are known'
                    : closed
                        .map(
                          (row) =>
                            `${spanWords(row.fromDay, row.toDay)}${row.reason ? ` (${row.reason})` : ''}`,
                        )
                        .join('; ')}
                </dd>
                <dt>Jobs</dt>
                <dd>
                  {jobs.length === 0 && 'none'}
                  {jobs.map((job) => (
                    <span key={job.key} className="job-link">
                      <Link to={`/jobs/${encodeURIComponent(job.key)}`}>{job.title}</Link>
                    </span>
                  ))}
                </dd>
              </dl>
            </li>
          );
        })}
      </ul>
    </>
  );
}
