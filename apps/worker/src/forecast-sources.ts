import { ensembleSource } from '../../../libs/forecast/src/ensemble.source.ts';
import type {
  FetchSurroundings,
  ForecastReader,
  ForecastSource,
} from '../../../libs/forecast/src/forecast-source.port.ts';
import { metLocationforecast } from '../../../libs/forecast/src/met-locationforecast.source.ts';
import type { Clock } from '../../../libs/kernel/src/index.ts';
import { readMetNorwayForecast, readOpenMeteoEnsemble } from '../../../libs/weather/src/index.ts';
import type { ForecastConfig } from './forecast-config.ts';

/** The services that are set up, with their readers. */
export function forecastSourcesOf(config: ForecastConfig, clock: Clock): ForecastSource[] {
  const { userAgent, metUrl, ensemble, reachDays } = config;
  if (userAgent === null) return [];
  const around: FetchSurroundings = { clock, random: Math.random, pause };
  return [
    ...(metUrl === null ? [] : [metLocationforecast({ url: metUrl, userAgent, read: readMet }, around)]),
    ...(ensemble === null
      ? []
      : [ensembleSource({ ...ensemble, userAgent, forecastDays: reachDays, read: readEnsemble }, around)]),
  ];
}

const readMet: ForecastReader = (text) => {
  const read = readMetNorwayForecast(JSON.parse(text));
  if (!read.ok) throw new Error(read.problem.words);
  return read.value.forecast;
};

const readEnsemble: ForecastReader = (text, { fetchedAt }) => {
  const read = readOpenMeteoEnsemble(JSON.parse(text), fetchedAt);
  if (!read.ok) throw new Error(read.problem.words);
  return read.value.forecast;
};

function pause(durationMs: number, signal?: AbortSignal): Promise<void> {
  return new Promise((resolve, reject) => {
    const end = () => {
      clearTimeout(timer);
      reject(signal?.reason);
    };
    const timer = setTimeout(() => {
      signal?.removeEventListener('abort', end);
      resolve();
    }, durationMs);
    signal?.addEventListener('abort', end, { once: true });
  });
}
