import type { ReactNode } from 'react';
import { count } from '../../format/counts.ts';
import { Link } from '../../route/route.tsx';
import type { SeasonNames } from '../../words/season-names.ts';

interface SiteWeather {
  readonly site: string;
  readonly record: string | null;
  readonly forecasts: readonly string[];
}

interface Props {
  readonly sites: readonly SiteWeather[];
  readonly names: SeasonNames;
}

/** Which hours stand for each site. */
export function SiteWeatherTable({ sites, names }: Props): ReactNode {
  const withRecord = sites.filter(({ record }) => record !== null).length;
  const withForecast = sites.filter(({ forecasts }) => forecasts.length > 0).length;
  const recordWords = ({ site, record }: SiteWeather): string => {
    if (record === null) return 'none: its monthly figures stand in, where it has some';
    return record === `site.${site}` ? 'its own' : `that of ${record.replace('.', ' ')}`;
  };
  return (
    <>
      <h2>What stands for each site</h2>
      <p>
        Of {count(sites.length, 'site')}, {withRecord} {withRecord === 1 ? 'has' : 'have'} a record of past
        hours and {withForecast} a forecast. <Link to="/weather/odds">Odds of the year at a site</Link>
      </p>
      <details className="difference">
        <summary>Site by site</summary>
        <div className="scroll-x">
          <table className="cards">
            <caption className="unseen">Record and forecasts of each site</caption>
            <thead>
              <tr>
                <th scope="col">Site</th>
                <th scope="col">Record</th>
                <th scope="col">Forecast</th>
                <th scope="col">Odds</th>
              </tr>
            </thead>
            <tbody>
              {sites.map((row) => (
                <tr key={row.site}>
                  <th scope="row">{names.of('site', row.site)}</th>
                  <td data-head="Record">{recordWords(row)}</td>
                  <td data-head="Forecast">
                    {row.forecasts.length === 0 ? 'none is fetched' : `${row.forecasts.length} fetched`}
                  </td>
                  <td>
                    <Link to={`/weather/odds?site=${encodeURIComponent(row.site)}`}>
                      Odds of the year<span className="unseen">: {names.of('site', row.site)}</span>
                    </Link>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </>
  );
}
