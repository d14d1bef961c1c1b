import { type ReactNode, useState } from 'react';
import { api, take } from '../../api/client.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { usePages } from '../../api/use-pages.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { PagedList } from '../../parts/paged-list.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';
import { ImportPanel } from './import-panel.tsx';
import { SeriesList } from './series-list.tsx';
import { SiteWeatherTable } from './site-weather-table.tsx';
import { type SentFile, UploadForm, UploadProgress, useUpload } from './upload-form.tsx';
import { placeId, weatherPlaces } from './weather-places.ts';

/** What is known of the weather, how it comes in, and a way to bring more. */
export function WeatherScreen(): ReactNode {
  const { file } = useSeason();
  return (
    <>
      <h1>Weather</h1>
      <p className="lead">
        The hours that odds are counted from, the forecasts that briefs go by, and how each of them stands.
      </p>
      <Loading from={file} what="the season">
        {(data) => <Weather data={data} />}
      </Loading>
      <Caution about={['wind', 'lifting']} />
    </>
  );
}

function Weather({ data }: { readonly data: SeasonData }): ReactNode {
  const { season } = useSeason();
  const { key, zone } = season.row;
  const [sent, setSent] = useState<readonly SentFile[]>([]);
  const status = useLoaded(`weather ${key}`, (signal) =>
    take(api.GET('/api/v1/seasons/{season}/weather', { params: { path: { season: key } }, signal })),
  );
  const imports = usePages(`weather files ${key}`, (cursor, signal) =>
    take(
      api.GET('/api/v1/seasons/{season}/weather-imports', {
        params: { path: { season: key }, query: { limit: 10, cursor } },
        signal,
      }),
    ),
  );
  const keep = (one: SentFile): void => setSent((old) => [one, ...old]);
  const again = useUpload(key, keep);
  const places = weatherPlaces(data.file);
  const nameOf = new Map(places.map((place) => [placeId(place), place.name]));
  const known = new Set(sent.map(({ run }) => run.id));
  const earlier = (imports.items ?? []).filter(({ id }) => !known.has(id));
  const runs = [...sent.map(({ run }) => run), ...earlier];
  const keepGoodOf = (id: string): (() => void) | null => {
    const own = sent.find(({ run }) => run.id === id);
    return own ? () => void again.send({ ...own, choice: { ...own.choice, keepGood: true } }) : null;
  };
  return (
    <>
      <Loading from={status} what="the records and forecasts">
        {({ series, sites }) => (
          <>
            <SeriesList series={series} sites={sites} file={data.file} zone={zone} />
            <SiteWeatherTable sites={sites} names={data.names} />
          </>
        )}
      </Loading>
      <UploadForm season={key} places={places} onSent={keep} />
      <UploadProgress upload={again} />
      <h2>Weather files</h2>
      <PagedList
        pages={{ ...imports, items: imports.items === null ? null : runs }}
        one="file"
        none={
          <p>No weather file was sent from here yet. What stands above may have come by the command line.</p>
        }
      >
        {(items) => (
          <ul className="todo-list">
            {items.map((run) => (
              <ImportPanel
                key={run.id}
                season={key}
                zone={zone}
                first={run}
                placeName={nameOf.get(placeId({ kind: run.target, key: run.key })) ?? run.key}
                onEnded={status.reload}
                onKeepGood={keepGoodOf(run.id)}
                busy={again.busy}
              />
            ))}
          </ul>
        )}
      </PagedList>
    </>
  );
}
