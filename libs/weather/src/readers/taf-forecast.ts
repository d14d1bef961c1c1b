import { type Instant, instantToMs } from '../../../kernel/src/index.ts';
import { growingRecord } from '../growing-record.ts';
import { type Forecast, type HourlyRecord } from '../hourly-record.ts';
import type { ReportState } from './report-state.ts';
import { isThunder } from './report-weather.ts';
import type { Taf, TafChange } from './taf.ts';

const HOUR_MS = 3_600_000;
/** Chances are given in tens of per cent, so ten equally likely members can carry them. */
const MEMBERS = 10;

/**
 * Hours of an aerodrome forecast, cautiously. The prevailing state is the opening, then what each FM brings whole, and what each BECMG
 * changes; while a BECMG is under way both the old and the new count. A TEMPO without a chance is expected, so all ten members carry
 * it in every hour of its span; a PROB or PROB TEMPO is carried by the first 3 (or 4) of the ten, the same ones for each such group.
 * A part whose span could not be read counts at any hour. Where several states touch an hour it has the highest wind and
 * gust of them, and thunder if any has it. No gust is less than 10 kt above the mean: it stays unknown.
 * Rain is unknown throughout, since a TAF tells no amounts and need not name light rain; so it never makes an hour dry. Null when cancelled.
 */
export function tafForecast(taf: Taf, place: HourlyRecord['place']): Forecast | null {
  if (taf.cancelled) return null;
  const head = { place, source: `TAF ${taf.station}`, standardOffsetMin: 0, typicalYear: false };
  const members = Array.from({ length: MEMBERS }, (_, member) => {
    const growing = growingRecord();
    for (let hour = hourOf(taf.valid.from, 'floor'); hour < hourOf(taf.valid.to, 'ceil'); hour += 1)
      growing.add(hour, worstOf(statesAt(taf, hour * HOUR_MS, member)));
    return growing.finish(head).record;
  });
  return { source: head.source, issuedAt: taf.issuedAt, members };
}

function hourOf(instant: Instant, rounding: 'floor' | 'ceil'): number {
  return Math[rounding](instantToMs(instant) / HOUR_MS);
}

/** All states that touch the hour for a member, the prevailing ones first. */
function statesAt(taf: Taf, startMs: number, member: number): ReportState[] {
  const endMs = startMs + HOUR_MS;
  let now: ReportState[] = [taf];
  const above: ReportState[] = [];
  for (const change of taf.changes) {
    const span = change.span && { from: instantToMs(change.span.from), to: instantToMs(change.span.to) };
    if (change.kind === 'TEMPO' || change.kind === 'PROB') {
      const carried = change.probabilityPct === null || member < Math.round(change.probabilityPct / MEMBERS);
      if (carried && (span === null || (span.from < endMs && span.to > startMs))) above.push(change);
    } else if (span === null) above.push(change);
    else if (span.from < endMs) now = afterChange(now, change, span, startMs);
  }
  return [...now, ...above];
}

/** The prevailing states once a change has begun before the end of the hour. */
function afterChange(
  now: readonly ReportState[],
  change: TafChange,
  span: { from: number; to: number },
  startMs: number,
): ReportState[] {
  if (change.kind === 'FM') return span.from <= startMs ? [change] : [...now, change];
  const changed = now.map((state) => overlaid(state, change));
  return span.to <= startMs ? changed : [...now, ...changed];
}

/** What a BECMG says over what was before; what it is silent about stays. */
function overlaid(state: ReportState, change: ReportState): ReportState {
  const weatherSaid = change.weather.length > 0 || change.noWeather || change.cavok || change.weatherMissing;
  return {
    ...state,
    wind: change.wind ?? state.wind,
    visibility: change.visibility ?? state.visibility,
    weather: weatherSaid ? change.weather : state.weather,
    weatherMissing: weatherSaid ? change.weatherMissing : state.weatherMissing,
  };
}

function worstOf(states: readonly ReportState[]) {
  let windMps = Number.NaN;
  let gustMps = Number.NaN;
  for (const { wind } of states) {
    const [mean, gust] = [wind?.meanMps ?? Number.NaN, wind?.gustMps ?? Number.NaN];
    if (!(mean <= windMps) && !Number.isNaN(mean)) windMps = mean;
    if (!(gust <= gustMps) && !Number.isNaN(gust)) gustMps = gust;
  }
  const heard = states.some(({ weather }) => weather.some(isThunder));
  const unsure = states.some(({ weatherMissing }) => weatherMissing);
  // A gust of one state below the mean of another says nothing of the highest gust.
  return {
    windMps,
    gustMps: gustMps < windMps ? Number.NaN : gustMps,
    thunder: heard ? true : unsure ? null : false,
  };
}
