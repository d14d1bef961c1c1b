import type { MorningBrief } from '../../../contracts/src/http/brief-schema.ts';
import {
  daysBetween,
  type Instant,
  type LocalDate,
  localDateAt,
  minutesBetween,
} from '../../../kernel/src/index.ts';
import type { Forecast } from '../../../weather/src/index.ts';
import type { BriefForecast } from './brief-input.ts';

/** A service that gave no good answer for so long is silent; the slowest is asked every six hours. */
export const SILENT_HOURS = 12;
/** A forecast that was issued longer ago is stale, even where the service says that it has nothing newer. Our own choice. */
export const OLD_HOURS = 24;

/** The forecast that a brief goes by, and how it stands. */
export interface ForecastChoice {
  readonly forecast: Forecast | null;
  readonly facts: MorningBrief['forecast'];
}

/**
 * Of the newest forecasts of all services: a fresh one before a stale one, many runs before a single one, the newer before the older. None
 * is missing, never taken as fair weather.
 */
export function chooseForecast(
  forecasts: readonly BriefForecast[],
  now: Instant,
  zone: string,
  day: LocalDate,
): ForecastChoice {
  const there = forecasts.filter((each): each is BriefForecast & { forecast: Forecast } => !!each.forecast);
  const ranked = there
    .map((each) => ({ ...each, fresh: isFresh(each, now) }))
    .sort(
      (a, b) =>
        Number(b.fresh) - Number(a.fresh) ||
        Number(b.forecast.members.length > 1) - Number(a.forecast.members.length > 1) ||
        (a.forecast.issuedAt > b.forecast.issuedAt ? -1 : 1),
    );
  const [best] = ranked;
  const fault = forecasts.find((each) => each.fault !== null)?.fault ?? null;
  if (!best) {
    const facts = {
      source: null,
      series: null,
      issuedAt: null,
      heardAt: null,
      ageHours: null,
      leadDays: null,
    };
    return { forecast: null, facts: { state: 'missing', ...facts, fault } };
  }
  const { issuedAt } = best.forecast;
  return {
    forecast: best.forecast,
    facts: {
      state: best.fresh ? 'fresh' : 'stale',
      source: best.source,
      series: best.series,
      issuedAt,
      heardAt: best.heardAt,
      ageHours: Math.round(minutesBetween(issuedAt, now) / 6) / 10,
      leadDays: Math.max(0, daysBetween(localDateAt(issuedAt, zone), day)),
      fault: best.fault,
    },
  };
}

function isFresh({ heardAt, forecast }: BriefForecast & { forecast: Forecast }, now: Instant): boolean {
  const silentMin = heardAt === null ? Number.POSITIVE_INFINITY : minutesBetween(heardAt, now);
  return silentMin <= SILENT_HOURS * 60 && minutesBetween(forecast.issuedAt, now) <= OLD_HOURS * 60;
}
