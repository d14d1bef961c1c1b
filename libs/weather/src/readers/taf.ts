import { type Instant, minutesBetween, ok, type Result, refused } from '../../../kernel/src/index.ts';
import { type ReportState, stateTaker } from './report-state.ts';
import { dayHourSpan, dayTime, type InstantSpan, isStation, nearestInstant, wordsOf } from './report-time.ts';

/** A part of an aerodrome forecast after its opening. */
export interface TafChange extends ReportState {
  /** FM: all is new from then on. BECMG: changes to this within the span. TEMPO: now and then within it. PROB: with a chance. */
  readonly kind: 'FM' | 'BECMG' | 'TEMPO' | 'PROB';
  /** 30 or 40, also before TEMPO; null when no chance is given. */
  readonly probabilityPct: number | null;
  /** Null when it could not be read: it may then be any time of the forecast. `to` of an FM is the end of the forecast. */
  readonly span: InstantSpan | null;
}

/** An aerodrome forecast (TAF) in our units. */
export interface Taf extends ReportState {
  readonly station: string;
  readonly issuedAt: Instant;
  readonly valid: InstantSpan;
  readonly amended: boolean;
  readonly corrected: boolean;
  readonly cancelled: boolean;
  readonly changes: readonly TafChange[];
  readonly unread: readonly string[];
}

/** A forecast is valid from soon after its issue and for 30 hours at most; more than this apart the two do not belong together. */
const MOST_MIN_TO_START = 24 * 60;
const MOST_MIN_VALID = 36 * 60;

/** Well formed and of no use here: extreme temperatures, pressure, icing and turbulence of military forecasts. */
const PASSED_OVER = [/^T[XN]M?\d{2}\/\d{4}Z$/, /^QNH\d{4}(INS|HPA)?$/, /^[56]\d{5}$/];
const CHANGE = /^(BECMG|TEMPO|PROB\d{2}|FM\d{6})$/;

/**
 * Reads one aerodrome forecast. The reference is any instant within two weeks of it. Refuses a text without station, times or validity, a
 * missing one (NIL), and validity that does not fit the issue. Malformed groups of a readable forecast are listed in `unread`.
 */
export function parseTaf(text: string, reference: Instant): Result<Taf, string> {
  const words = wordsOf(text);
  let at = 0;
  let amended = false;
  let corrected = false;
  for (; ['TAF', 'AMD', 'COR'].includes(words[at] ?? ''); at += 1) {
    amended ||= words[at] === 'AMD';
    corrected ||= words[at] === 'COR';
  }
  const station = words[at];
  if (!isStation(station)) return refused(`${station ?? 'nothing'} stands where the station is expected`);
  const issuedAt = dayTime(words[at + 1], reference);
  if (!issuedAt) return refused(`${words[at + 1] ?? 'nothing'} stands where the time of issue is expected`);
  if (words[at + 2] === 'NIL') return refused('the forecast is missing (NIL)');
  const valid = dayHourSpan(words[at + 2], issuedAt);
  if (!valid) return refused(`${words[at + 2] ?? 'nothing'} stands where the time of validity is expected`);
  const toStart = minutesBetween(issuedAt, valid.from);
  if (Math.abs(toStart) > MOST_MIN_TO_START || minutesBetween(valid.from, valid.to) > MOST_MIN_VALID)
    return refused(`the validity ${words[at + 2]} does not fit the time of issue`);
  at += 3;

  const unread: string[] = [];
  const opening = stateTaker();
  const changes: (Omit<TafChange, keyof ReportState> & { taker: ReturnType<typeof stateTaker> })[] = [];
  let inRemarks = false;
  while (at < words.length) {
    const word = words[at] as string;
    if (CHANGE.test(word)) {
      inRemarks = false;
      const change = readChange(words, at, valid, unread);
      changes.push({ ...change.change, taker: stateTaker() });
      at = change.next;
    } else if (inRemarks || word === 'RMK') {
      // Remarks are plain language; a change that follows them is read again.
      inRemarks = true;
      at += 1;
    } else if (
      word === 'AMD' ||
      word === 'COR' ||
      word === 'CNL' ||
      PASSED_OVER.some((shape) => shape.test(word))
    ) {
      amended ||= word === 'AMD';
      corrected ||= word === 'COR';
      at += 1;
    } else {
      const taken = (changes.at(-1)?.taker ?? opening).take(words, at);
      if (taken === 0) unread.push(word);
      at += Math.max(1, taken);
    }
  }
  return ok({
    station,
    issuedAt,
    valid,
    amended,
    corrected,
    cancelled: words.includes('CNL'),
    ...opening.state(),
    changes: changes.map(({ taker, ...change }) => ({ ...change, ...taker.state() })),
    unread,
  });
}

/** A change and where its groups begin. */
function readChange(
  words: readonly string[],
  at: number,
  valid: InstantSpan,
  unread: string[],
): { change: Omit<TafChange, keyof ReportState>; next: number } {
  const word = words[at] as string;
  if (word.startsWith('FM')) {
    const [day, hour, minute] = [2, 4, 6].map((from) => Number(word.slice(from, from + 2))) as [
      number,
      number,
      number,
    ];
    const from = nearestInstant(day, hour, minute, valid.from);
    const fits = from !== null && from >= valid.from && from <= valid.to;
    if (!fits) unread.push(word);
    return {
      change: { kind: 'FM', probabilityPct: null, span: fits ? { from, to: valid.to } : null },
      next: at + 1,
    };
  }
  const chance = word.startsWith('PROB') ? Number(word.slice(4)) : null;
  const isTempo = word === 'TEMPO' || (chance !== null && words[at + 1] === 'TEMPO');
  let next = at + (chance !== null && isTempo ? 2 : 1);
  const span = dayHourSpan(words[next], valid.from);
  if (span) next += 1;
  else unread.push(word);
  const kind = isTempo ? 'TEMPO' : chance === null ? 'BECMG' : 'PROB';
  return { change: { kind, probabilityPct: chance, span }, next };
}
