import { type ReactNode, useState } from 'react';
import type { SeasonFile } from '../../../../../libs/contracts/src/index.ts';
import { api, take } from '../../api/client.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { goTo, Link, usePlace } from '../../route/route.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';
import { percent } from '../../words/brief-words.ts';
import { OddsTable } from './odds-table.tsx';
import { isOutside, type OddsCalendar } from './odds-words.ts';

/** The odds of good days at a site over the year, for a job or a kit. */
export function OddsScreen(): ReactNode {
  const { file } = useSeason();
  return (
    <>
      <p className="small">
        <Link to="/weather">Weather</Link>
      </p>
      <h1>Odds of the year</h1>
      <p className="lead">
        How often the weather of past years would have let the outside work be done, for each date on which it
        might begin.
      </p>
      <Loading from={file} what="the season">
        {(data) => <Odds data={data} />}
      </Loading>
      <Caution about={['wind', 'lifting', 'height']} />
    </>
  );
}

/** The chosen work as the API asks for it: a job, or a kit by its template for a build. */
type Work = { readonly job: string } | { readonly kit: string };

function workOf(value: string): Work | null {
  const [kind, key] = [value.slice(0, 4), value.slice(4)];
  if (key === '') return null;
  return kind === 'kit:' ? { kit: key } : { job: key };
}

function Odds({ data }: { readonly data: SeasonData }): ReactNode {
  const { query } = usePlace();
  const sites = [...data.file.sites].sort((a, b) => a.name.localeCompare(b.name));
  const site = sites.find(({ key }) => key === query.get('site'))?.key ?? '';
  const jobs = data.file.jobs.filter((job) => job.site === site && isOutside(data.file, job));
  const first = jobs[0] ? `job:${jobs[0].key}` : '';
  const work = query.get('work') ?? first;
  const go = (changes: Readonly<Record<string, string>>): void => {
    goTo(`/weather/odds?${new URLSearchParams({ site, ...changes })}`, 'replace');
  };
  const chosen = workOf(work);
  return (
    <>
      <div className="filters plain-face">
        <div className="field">
          <label htmlFor="odds-site">Site</label>
          <select id="odds-site" value={site} onChange={(event) => go({ site: event.target.value })}>
            <option value="">choose a site</option>
            {sites.map(({ key, name }) => (
              <option key={key} value={key}>
                {name}
              </option>
            ))}
          </select>
        </div>
        <WorkChoice file={data.file} jobs={jobs} work={work} onChoose={(next) => go({ work: next })} />
      </div>
      {site === '' && <p>Choose a site to see its odds.</p>}
      {site !== '' && chosen === null && (
        <p>No job there has work outside that is known. Choose a kit to see its odds.</p>
      )}
      {site !== '' && chosen !== null && (
        <Calendar key={`${site} ${work}`} site={site} siteName={data.names.of('site', site)} work={chosen} />
      )}
    </>
  );
}

interface WorkProps {
  readonly file: SeasonFile;
  readonly jobs: SeasonFile['jobs'];
  readonly work: string;
  readonly onChoose: (work: string) => void;
}

function WorkChoice({ file, jobs, work, onChoose }: WorkProps): ReactNode {
  const built = new Set(file.kitTemplates.filter((row) => row.visitKind === 'build').map(({ kit }) => kit));
  const buildable = file.kits.filter(({ key }) => built.has(key));
  return (
    <div className="field">
      <label htmlFor="odds-work">Work</label>
      <select id="odds-work" value={work} onChange={(event) => onChoose(event.target.value)}>
        <option value="">choose a job or a kit</option>
        {jobs.length > 0 && (
          <optgroup label="Jobs at this site">
            {jobs.map(({ key, title }) => (
              <option key={key} value={`job:${key}`}>
                {title}
              </option>
            ))}
          </optgroup>
        )}
        <optgroup label="A kit, built there">
          {buildable.map(({ key, name }) => (
            <option key={key} value={`kit:${key}`}>
              {name}
            </option>
          ))}
        </optgroup>
      </select>
    </div>
  );
}

interface CalendarProps {
  readonly site: string;
  readonly siteName: string;
  readonly work: Work;
}

function Calendar({ site, siteName, work }: CalendarProps): ReactNode {
  const { season } = useSeason();
  const path = { season: season.row.key, site };
  const odds = useLoaded(`odds ${site} ${JSON.stringify(work)}`, (signal) =>
    take(
      api.GET('/api/v1/seasons/{season}/sites/{site}/odds-calendar', {
        params: { path, query: work },
        signal,
      }),
    ),
  );
  if (odds.trouble?.code === 'not-found') {
    return (
      <Notice kind="warn">
        <p>
          The odds of {siteName} are not known: no hourly record stands for it, and none for its weather
          station.
        </p>
        <p>
          Next: <Link to="/weather">read a weather file in</Link>. Until then plans go by its monthly figures,
          where it has some.
        </p>
      </Notice>
    );
  }
  const picture = `/api/v1/seasons/${encodeURIComponent(path.season)}/sites/${encodeURIComponent(site)}/odds-calendar.svg?${new URLSearchParams(work)}`;
  return (
    <Loading from={odds} what="the odds; where they must be counted first, that takes a moment">
      {(calendar) => <CalendarView calendar={calendar} picture={picture} />}
    </Loading>
  );
}

function CalendarView({ calendar, picture }: { calendar: OddsCalendar; picture: string }): ReactNode {
  const [broken, setBroken] = useState(false);
  const { what, siteName, record, years, typicalYear, shift, statements, gustEstimatedShare, gustFactor } =
    calendar;
  return (
    <>
      <h2>{what.includes(siteName) ? what : `${what} at ${siteName}`}</h2>
      <dl className="facts">
        <dt>Counted from</dt>
        <dd>
          {record.name}, {record.source}
        </dd>
        <dt>Years behind it</dt>
        <dd>{typicalYear ? '1 typical year, put together from several' : years}</dd>
        <dt>Work between</dt>
        <dd>
          {shift.from} and {shift.to} ({shift.zone})
        </dd>
        <dt>Gusts</dt>
        <dd>
          {gustEstimatedShare === 0
            ? 'measured'
            : `estimated in ${percent(gustEstimatedShare)} of the hours, as mean wind times ${gustFactor}`}
        </dd>
      </dl>
      {statements.length > 0 && (
        <Notice kind="warn">
          <p className="notice-head">What these odds rest on, and what they leave out</p>
          <ul className="tight">
            {statements.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </Notice>
      )}
      {broken ? (
        <p>The picture could not be loaded; the tables below say the same.</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide picture scrolls in a frame that the keyboard must reach
        <section className="scroll-x" aria-label="Picture of the year" tabIndex={0}>
          <img
            className="odds-picture"
            src={picture}
            alt={`Odds of good days at ${siteName} for each date of the year; the tables below say the same in figures.`}
            onError={() => setBroken(true)}
          />
        </section>
      )}
      <p>
        <a href={picture} download={`odds-${calendar.site}.svg`}>
          Save the picture
        </a>
      </p>
      <OddsTable calendar={calendar} />
    </>
  );
}
