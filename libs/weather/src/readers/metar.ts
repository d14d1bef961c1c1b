import { addMinutes, type Instant, ok, type Result, refused } from '../../../kernel/src/index.ts';
import { type ReportState, stateTaker } from './report-state.ts';
import { dayTime, isStation, nearestInstant, wordsOf } from './report-time.ts';

/** A change that a report expects within two hours. */
export interface MetarTrend {
  readonly kind: 'BECMG' | 'TEMPO';
  readonly fromAt: Instant | null;
  readonly untilAt: Instant | null;
  readonly atTime: Instant | null;
  readonly state: ReportState;
}

/** An aviation routine or special report (METAR, SPECI) in our units. */
export interface Metar extends ReportState {
  readonly kind: 'METAR' | 'SPECI';
  /** Null for a station that is not named by four letters. */
  readonly station: string | null;
  readonly observedAt: Instant;
  /** Made by a machine, which may not see weather. */
  readonly auto: boolean;
  readonly corrected: boolean;
  /** The report is missing (NIL): nothing else is known. */
  readonly nil: boolean;
  readonly tempC: number | null;
  readonly dewPointC: number | null;
  readonly qnhHpa: number | null;
  /** Precipitation since the last routine report, from remarks (`P0013`, hundredths of an inch). */
  readonly remarkRainMm: number | null;
  readonly trends: readonly MetarTrend[];
  /** Words that could not be read, in order; what they may have said is not guessed. */
  readonly unread: readonly string[];
}

/**
 * Reads one report. The reference is any instant within two weeks of it, since reports name no month. Refuses a text without a time group;
 * whatever else is missing or malformed is left unknown and listed in `unread`.
 */
export function parseMetar(text: string, reference: Instant): Result<Metar, string> {
  const words = wordsOf(text);
  const kind = words.includes('SPECI') ? 'SPECI' : 'METAR';
  const unread: string[] = [];
  const timeAt = words.slice(0, 7).findIndex((word) => /^\d{6}Z$/.test(word));
  if (timeAt < 0) return refused('there is no time group such as 221630Z');
  const observedAt = dayTime(words[timeAt], reference);
  if (!observedAt) return refused(`${words[timeAt]} is no time`);

  let station: string | null = null;
  let auto = false;
  let corrected = false;
  for (const word of words.slice(0, timeAt)) {
    if (word === 'METAR' || word === 'SPECI') continue;
    if (word === 'COR') corrected = true;
    else if (station === null && isStation(word)) station = word;
    else unread.push(word);
  }
  const body = bodyReader(observedAt, unread);
  let nil = false;
  let remarkAt = words.length;
  for (let at = timeAt + 1; at < words.length; ) {
    const word = words[at] as string;
    if (word === 'RMK') {
      remarkAt = at;
      break;
    }
    if (isStation(word) && /^\d{6}Z$/.test(words[at + 1] ?? '')) {
      // Another report follows in the same text; it is not mixed into this one.
      unread.push(...words.slice(at));
      break;
    }
    at += 1;
    if (word === 'AUTO') auto = true;
    else if (word === 'COR' || /^CC[A-Z]$/.test(word)) corrected = true;
    else if (word === 'NIL') nil = true;
    else if (word !== 'NOSIG' && word !== '$') at += body.take(words, at - 1) - 1;
  }
  const remarks = remarkFigures(words.slice(remarkAt + 1));
  return ok({
    kind,
    station,
    observedAt,
    auto,
    corrected,
    nil,
    ...body.state(),
    tempC: remarks.tempC ?? body.tempC(),
    dewPointC: remarks.dewPointC ?? body.dewPointC(),
    qnhHpa: body.qnhHpa(),
    remarkRainMm: remarks.rainMm,
    trends: body.trends(),
    unread,
  });
}

interface OpenTrend {
  kind: MetarTrend['kind'];
  fromAt: Instant | null;
  untilAt: Instant | null;
  atTime: Instant | null;
  taker: ReturnType<typeof stateTaker>;
}

function bodyReader(observedAt: Instant, unread: string[]) {
  const main = stateTaker();
  const trends: OpenTrend[] = [];
  let temps: { tempC: number | null; dewPointC: number | null } | null = null;
  let qnh: { hPa: number | null } | null = null;

  return {
    state: main.state,
    tempC: () => temps?.tempC ?? null,
    dewPointC: () => temps?.dewPointC ?? null,
    qnhHpa: () => qnh?.hPa ?? null,
    trends: (): MetarTrend[] => trends.map(({ taker, ...trend }) => ({ ...trend, state: taker.state() })),
    /** How many words were dealt with; one that cannot be read is listed and counts as one. */
    take(words: readonly string[], at: number): number {
      const word = words[at] as string;
      if (word === 'BECMG' || word === 'TEMPO') {
        trends.push({ kind: word, fromAt: null, untilAt: null, atTime: null, taker: stateTaker() });
        return 1;
      }
      const trend = trends.at(-1);
      if (trend) {
        const when = /^(FM|TL|AT)(\d{2})(\d{2})$/.exec(word);
        if (when && setTrendTime(trend, when[1] as string, Number(when[2]), Number(when[3]), observedAt))
          return 1;
      } else {
        const heat = temps === null ? temperatureGroup(word) : null;
        const pressure = qnh === null ? pressureGroup(word) : null;
        temps ??= heat;
        qnh ??= pressure;
        if (heat || pressure) return 1;
      }
      const taken = (trend?.taker ?? main).take(words, at);
      if (taken === 0) unread.push(word);
      return Math.max(1, taken);
    },
  };
}

/** A time of a trend is the next one of that hour after the report. */
function setTrendTime(
  trend: OpenTrend,
  kind: string,
  hour: number,
  minute: number,
  observedAt: Instant,
): boolean {
  const sameDay = nearestInstant(Number(observedAt.slice(8, 10)), hour, minute, observedAt);
  if (!sameDay) return false;
  const field = kind === 'FM' ? 'fromAt' : kind === 'TL' ? 'untilAt' : 'atTime';
  trend[field] = sameDay >= observedAt ? sameDay : addMinutes(sameDay, 24 * 60);
  return true;
}

/** `17/16`, `M01/M05`, with strokes for what is missing: `25////`, `////10`. */
function temperatureGroup(word: string): { tempC: number | null; dewPointC: number | null } | null {
  const parts = /^(?:(M?\d{2})\/(M?\d{2}|\/{2,3})?|\/{3,4}(M?\d{2}))$/.exec(word);
  if (!parts) return null;
  const value = (text: string | undefined): number | null =>
    text === undefined || text.startsWith('/') ? null : 0 + Number(text.replace('M', '-'));
  return { tempC: value(parts[1]), dewPointC: value(parts[2] ?? parts[3]) };
}

/** `Q1018` in hPa, `A2979` in hundredths of an inch of mercury (33.8639 hPa), `Q////`. */
function pressureGroup(word: string): { hPa: number | null } | null {
  const parts = /^([QA])(\d{4}|\/{4})$/.exec(word);
  if (!parts) return null;
  if (parts[2] === '////') return { hPa: null };
  const hPa = parts[1] === 'Q' ? Number(parts[2]) : Math.round(Number(parts[2]) * 3.38639) / 10;
  return hPa >= 850 && hPa <= 1100 ? { hPa } : null;
}

/** Figures that North American stations add to tenths (`T01820159`) and as rain of the hour (`P0013`). */
function remarkFigures(words: readonly string[]) {
  const tenths = words
    .map((word) => /^T([01])(\d{3})([01])(\d{3})$/.exec(word))
    .find((parts) => parts !== null);
  const rain = words.map((word) => /^P(\d{4})$/.exec(word)).find((parts) => parts !== null);
  const value = (sign: string | undefined, digits: string | undefined): number =>
    ((sign === '1' ? -1 : 1) * Number(digits)) / 10;
  return {
    tempC: tenths ? value(tenths[1], tenths[2]) : null,
    dewPointC: tenths ? value(tenths[3], tenths[4]) : null,
    rainMm: rain ? Number(((Number(rain[1]) / 100) * 25.4).toFixed(2)) : null,
  };
}
