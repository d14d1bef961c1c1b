import { type LocalDate, luxonZone, offsetMinAt, toDay, weekdayOf } from '../../kernel/src/index.ts';

const DAY_MS = 86_400_000;
const WEEKDAYS = ['MO', 'TU', 'WE', 'TH', 'FR', 'SA', 'SU'] as const;

/** One moment at which the clocks of a zone are changed. */
interface ClockChange {
  readonly epochMs: number;
  readonly fromMin: number;
  readonly toMin: number;
  /** Wall time that the clocks show at the change, still by the offset before it. */
  readonly date: LocalDate;
  readonly time: string;
}

const known = new Map<string, string>();

/**
 * A VTIMEZONE (RFC 5545 section 3.6.5) that says what the kernel's zone data says for every instant of the given
 * years. Where the clocks follow one rule in all of them it is written as a yearly rule, which all calendar programs
 * read; otherwise each change is written out. Throws `unknown-zone`.
 */
export function zoneDefinition(zone: string, firstYear: number, lastYear: number): string {
  const key = `${zone} ${firstYear} ${lastYear}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const made = define(zone, firstYear, lastYear);
  // A server sees few zones and few years; the bound only stops a runaway caller.
  if (known.size >= 500) known.clear();
  known.set(key, made);
  return made;
}

function define(zone: string, firstYear: number, lastYear: number): string {
  // One year more on both sides: the observance that an event falls into began before it, perhaps the year before.
  const startMs = Date.UTC(firstYear - 1, 0, 1);
  const changes = changesBetween(zone, startMs, Date.UTC(lastYear + 2, 0, 1));
  const yearly = yearlyRules(changes, lastYear - firstYear + 3);
  const parts = yearly
    ? yearly.map(({ change, rule }) => observance(zone, change, rule))
    : [observance(zone, standing(zone, startMs)), ...changes.map((change) => observance(zone, change))];
  return ['BEGIN:VTIMEZONE', `TZID:${zone}`, ...parts.flat(), 'END:VTIMEZONE'].join('\r\n');
}

function changesBetween(zone: string, startMs: number, endMs: number): ClockChange[] {
  const changes: ClockChange[] = [];
  for (let at = startMs; at < endMs; at += DAY_MS) {
    let before = at;
    let after = Math.min(at + DAY_MS, endMs);
    if (offsetMinAt(zone, before) === offsetMinAt(zone, after)) continue;
    while (after - before > 1000) {
      const middle = before + Math.floor((after - before) / 2000) * 1000;
      if (offsetMinAt(zone, middle) === offsetMinAt(zone, at)) before = middle;
      else after = middle;
    }
    changes.push(changeAt(after, offsetMinAt(zone, before), offsetMinAt(zone, after)));
  }
  return changes;
}

/** What holds at the start of the window, written as a change from itself to itself. */
function standing(zone: string, epochMs: number): ClockChange {
  const offsetMin = offsetMinAt(zone, epochMs);
  return changeAt(epochMs, offsetMin, offsetMin);
}

function changeAt(epochMs: number, fromMin: number, toMin: number): ClockChange {
  const wall = new Date(epochMs + fromMin * 60_000).toISOString();
  return { epochMs, fromMin, toMin, date: wall.slice(0, 10) as LocalDate, time: wall.slice(11, 19) };
}

interface YearlyRule {
  /** The first change that follows the rule. */
  readonly change: ClockChange;
  readonly rule: string;
}

/** Two rules that produce exactly these changes, one of each kind in each of the years; undefined if there are none. */
function yearlyRules(changes: readonly ClockChange[], years: number): readonly YearlyRule[] | undefined {
  if (changes.length !== 2 * years) return undefined;
  const rules: YearlyRule[] = [];
  for (const kind of [0, 1]) {
    const ofKind = changes.filter((_, index) => index % 2 === kind);
    const [first] = ofKind as [ClockChange];
    const alike = ofKind.every(
      (change, index) =>
        change.date.slice(0, 4) === String(Number(first.date.slice(0, 4)) + index).padStart(4, '0') &&
        change.date.slice(5, 7) === first.date.slice(5, 7) &&
        change.time === first.time &&
        change.fromMin === first.fromMin &&
        change.toMin === first.toMin,
    );
    const place = placesInMonth(first.date).find((candidate) =>
      ofKind.every((change) => placesInMonth(change.date).includes(candidate)),
    );
    if (!alike || place === undefined) return undefined;
    rules.push({
      change: first,
      rule: `FREQ=YEARLY;BYMONTH=${Number(first.date.slice(5, 7))};BYDAY=${place}`,
    });
  }
  return rules;
}

/** How a date may be named within its month: `2SU` is the second Sunday, `-1SU` the last. */
function placesInMonth(date: LocalDate): string[] {
  const weekday = WEEKDAYS[weekdayOf(toDay(date)) - 1] as string;
  const dayOfMonth = Number(date.slice(8, 10));
  const places = [`${Math.ceil(dayOfMonth / 7)}${weekday}`];
  const daysInMonth = new Date(Date.UTC(Number(date.slice(0, 4)), Number(date.slice(5, 7)), 0)).getUTCDate();
  if (dayOfMonth + 7 > daysInMonth) places.unshift(`-1${weekday}`);
  return places;
}

function observance(zone: string, change: ClockChange, rule?: string): string[] {
  const kind = change.toMin > change.fromMin ? 'DAYLIGHT' : 'STANDARD';
  return [
    `BEGIN:${kind}`,
    `DTSTART:${change.date.replaceAll('-', '')}T${change.time.replaceAll(':', '')}`,
    `TZOFFSETFROM:${offset(change.fromMin)}`,
    `TZOFFSETTO:${offset(change.toMin)}`,
    ...(rule === undefined ? [] : [`RRULE:${rule}`]),
    `TZNAME:${luxonZone(zone).offsetName(change.epochMs, { format: 'short', locale: 'en' }) ?? zone}`,
    `END:${kind}`,
  ];
}

/** `+HHMM` or `-HHMM`; zero is `+0000`, for `-0000` is not allowed (RFC 5545 section 3.3.14). */
function offset(offsetMin: number): string {
  const whole = Math.round(Math.abs(offsetMin));
  const sign = offsetMin < 0 && whole > 0 ? '-' : '+';
  return `${sign}${String(Math.floor(whole / 60)).padStart(2, '0')}${String(whole % 60).padStart(2, '0')}`;
}
