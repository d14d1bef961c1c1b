import type { ReactNode } from 'react';
import type { SeasonFile } from '../../../../../libs/contracts/src/index.ts';
import { count } from '../../format/counts.ts';
import { zonedTime } from '../../format/times.ts';
import { State } from '../../parts/state.tsx';
import { feedWords, gapWords, holdsWords, spanOf, type WeatherSeries } from './series-words.ts';
import { placeId, weatherPlaces } from './weather-places.ts';

interface Props {
  readonly series: readonly WeatherSeries[];
  readonly sites: readonly { readonly site: string; readonly forecasts: readonly string[] }[];
  readonly file: SeasonFile;
  readonly zone: string;
}

/** Every record and every forecast of the firm, and how it stands. */
export function SeriesList({ series, sites, file, zone }: Props): ReactNode {
  const places = new Map(weatherPlaces(file).map((place) => [placeId(place), place]));
  const nameOf = (key: string, name: string): string => {
    const place = places.get(key);
    if (place) return `${place.kind === 'station' ? 'Station' : 'Site'} ${place.name}`;
    const own = sites.filter(({ forecasts }) => forecasts.includes(key));
    const named = own.map(({ site }) => places.get(placeId({ kind: 'site', key: site }))?.name ?? site);
    return named.length > 0 ? named.join(', ') : `${name} (not in this season)`;
  };
  const records = series.filter(({ kind }) => kind === 'record');
  const forecasts = series.filter(({ kind }) => kind === 'forecast');
  return (
    <>
      <h2>Records of past hours</h2>
      {records.length === 0 ? (
        <p>
          There is none yet: the odds of every site rest on its monthly figures, where it has some. Read a
          weather file in to change that.
        </p>
      ) : (
        <div className="scroll-x">
          <table className="cards">
            <caption className="unseen">Records of past hours, one row each</caption>
            <thead>
              <tr>
                <th scope="col">Record for</th>
                <th scope="col">From and to</th>
                <th scope="col">Hours</th>
                <th scope="col">Gaps</th>
                <th scope="col">Holds</th>
                <th scope="col">Source</th>
              </tr>
            </thead>
            <tbody>
              {records.map((one) => (
                <tr key={one.key}>
                  <th scope="row">{nameOf(one.key, one.name)}</th>
                  <td data-head="From and to">{spanOf(one, zone)}</td>
                  <td data-head="Hours">{one.hours.toLocaleString('en-CA')}</td>
                  <td data-head="Gaps">{gapWords(one)}</td>
                  <td data-head="Holds">{holdsWords(one)}</td>
                  <td data-head="Source">{one.source}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <h2>Forecasts</h2>
      {forecasts.length === 0 ? (
        <p>
          None is fetched: no published visit is within reach of a forecast, or the server has no forecast
          service set up. Until one comes, no brief can say go.
        </p>
      ) : (
        <ul className="todo-list">
          {forecasts.map((one) => (
            <li key={one.key}>
              <p className="todo-head">
                {nameOf(one.key, one.name)} <State of="forecast" state={one.feed?.state ?? 'none'} />
              </p>
              <p>
                {feedWords(one.feed, zone)} From {one.source}
                {one.hours > 0 && `, ${count(one.hours, 'hour')}: ${holdsWords(one)}`}.
              </p>
              {one.feed?.fault && (
                <p>
                  The last try failed{one.feed.tries > 1 && ` (${one.feed.tries} in a row)`}: {one.feed.fault}
                </p>
              )}
              {one.feed && <p className="small muted">Next try {zonedTime(one.feed.nextDueAt, zone)}.</p>}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
