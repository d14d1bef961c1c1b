import { createContext, type ReactNode, useCallback, useContext, useMemo, useState } from 'react';
import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { api, type Schema, take } from '../api/client.ts';
import { type Loaded, useLoaded } from '../api/use-loaded.ts';
import { SeasonNames } from '../words/season-names.ts';

type Season = Schema<'Season'>;

export interface SeasonScope {
  readonly seasons: readonly Season[];
  readonly season: Season;
  readonly choose: (key: string) => void;
  /** Asks for the list again, and goes to a season if a key is given. */
  readonly refresh: (key?: string) => void;
  readonly file: Loaded<SeasonData>;
}

export interface SeasonData {
  readonly file: SeasonFile;
  readonly names: SeasonNames;
}

const Scope = createContext<SeasonScope | null>(null);
const REMEMBERED = 'dryspell-season';

interface Props {
  readonly children: (scope: SeasonScope) => ReactNode;
  /** Shown while the firm has no season yet. */
  readonly empty: (refresh: (key?: string) => void) => ReactNode;
  readonly waiting: (seasons: Loaded<readonly Season[]>) => ReactNode;
}

/** The earliest season that has not ended; the latest one when all have. Days are compared as text, in no zone. */
function seasonAtHand(seasons: readonly Season[]): Season | null {
  const today = new Date().toISOString().slice(0, 10);
  const byFirstDay = [...seasons].sort((a, b) => (a.row.firstDay < b.row.firstDay ? -1 : 1));
  return byFirstDay.find(({ row }) => row.lastDay >= today) ?? byFirstDay.at(-1) ?? null;
}

/** The season that all screens speak of, and what is in it. */
export function SeasonProvider({ children, empty, waiting }: Props): ReactNode {
  const seasons = useLoaded<readonly Season[]>('seasons', async (signal) => {
    return (await take(api.GET('/api/v1/seasons', { signal }))).items;
  });
  const [chosen, setChosen] = useState<string | null>(() => window.localStorage.getItem(REMEMBERED));
  const season = seasons.data?.find((one) => one.row.key === chosen) ?? seasonAtHand(seasons.data ?? []);
  const key = season?.row.key ?? null;
  const file = useLoaded<SeasonData>(key === null ? null : `file ${key}`, (signal) =>
    loadFile(key as string, signal),
  );
  const choose = useCallback((wanted: string) => {
    window.localStorage.setItem(REMEMBERED, wanted);
    setChosen(wanted);
  }, []);
  const { reload: reloadSeasons } = seasons;
  const { reload: reloadFile } = file;
  const refresh = useCallback(
    (wanted?: string) => {
      if (wanted !== undefined) choose(wanted);
      reloadSeasons();
      reloadFile();
    },
    [choose, reloadSeasons, reloadFile],
  );
  const scope = useMemo<SeasonScope | null>(
    () => (season && seasons.data ? { seasons: seasons.data, season, choose, refresh, file } : null),
    [season, seasons.data, choose, refresh, file],
  );
  if (scope) return <Scope.Provider value={scope}>{children(scope)}</Scope.Provider>;
  if (seasons.data?.length === 0) return empty(refresh);
  return waiting(seasons);
}

/** The season in view. Throws outside a `SeasonProvider`. */
export function useSeason(): SeasonScope {
  const scope = useContext(Scope);
  if (!scope) throw new Error('no season in view');
  return scope;
}

async function loadFile(season: string, signal: AbortSignal): Promise<SeasonData> {
  const content: unknown = await take(
    api.GET('/api/v1/seasons/{season}/export', {
      params: { path: { season }, query: { format: 'json' } },
      parseAs: 'json',
      signal,
    }),
  );
  const file = content as SeasonFile;
  return { file, names: new SeasonNames(file) };
}
