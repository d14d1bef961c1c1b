import type { HourValues } from '../growing-record.ts';
import type { HourlyRecord } from '../hourly-record.ts';
import { localDateOfHour } from '../record-clock.ts';

/** Reports of any interval put together to hours: mean wind, temperature and dew point; highest gust; rain added up. */
export interface HourSums {
  /** Takes one report. Reports of one hour come one after the other. */
  add(hourIndex: number, values: HourValues, line: number): void;
  /** Closes the last hour. */
  end(): void;
  /** Takes back what hours with too few reports cannot say, from the finished record. To be called once. */
  revise(record: HourlyRecord): void;
  /** Whether any hour was put together from more than one report. */
  readonly putTogether: boolean;
}

const MEANS = ['tempC', 'dewPointC', 'windMps'] as const;
/** Counts fit into a byte; no report is for less than a minute. */
const MOST_REPORTS = 60;

/**
 * Rain is taken as what fell since the report before (an increment), not as a total of the hour so far or of longer. An hour with fewer
 * reports than is usual in its month has no rain, since part of it was not seen, and no means when more than half of its reports are missing.
 * Its highest gust stays: it was at least that. Thunder in one report is thunder; none is said only if all reports say so.
 */
export function hourSums(give: (hourIndex: number, values: HourValues, line: number) => void): HourSums {
  let now: OpenHour | null = null;
  let length = 0;
  let hours = new Int32Array(1024);
  let counts = new Uint8Array(1024);
  let putTogether = false;

  function close(): void {
    if (!now) return;
    if (length === hours.length) {
      const [moreHours, moreCounts] = [new Int32Array(length * 2), new Uint8Array(length * 2)];
      moreHours.set(hours);
      moreCounts.set(counts);
      [hours, counts] = [moreHours, moreCounts];
    }
    hours[length] = now.hourIndex;
    counts[length] = Math.min(now.reports, MOST_REPORTS);
    length += 1;
    if (now.reports > 1) putTogether = true;
    give(now.hourIndex, valuesOf(now), now.line);
    now = null;
  }

  /** Hours with fewer reports than most hours of their month have, with the share that is there. */
  function incomplete(): Map<number, number> {
    const found = new Map<number, number>();
    for (let from = 0; from < length; ) {
      const month = localDateOfHour(hours[from] as number).month;
      let to = from;
      const howOften = new Uint32Array(MOST_REPORTS + 1);
      for (; to < length && localDateOfHour(hours[to] as number).month === month; to += 1) {
        const reports = counts[to] as number;
        howOften[reports] = (howOften[reports] as number) + 1;
      }
      const usual = howOften.indexOf(Math.max(...howOften));
      for (let at = from; at < to; at += 1) {
        const share = (counts[at] as number) / usual;
        if (share < 1) found.set(hours[at] as number, share);
      }
      from = to;
    }
    return found;
  }

  return {
    get putTogether() {
      return putTogether;
    },
    add(hourIndex, values, line) {
      if (now && now.hourIndex !== hourIndex) close();
      now ??= { hourIndex, line, reports: 0, sums: new Map(), rain: 0, gust: Number.NaN, thunder: false };
      take(now, values);
    },
    end: close,
    revise(record) {
      if (!putTogether) return;
      const few = incomplete();
      record.hourIndex.forEach((hourIndex, at) => {
        const share = few.get(hourIndex);
        if (share === undefined) return;
        record.rainMm[at] = Number.NaN;
        if (record.thunder[at] === 0) record.thunder[at] = -1;
        if (share < 0.5) for (const name of MEANS) record[name][at] = Number.NaN;
      });
    },
  };
}

interface OpenHour {
  readonly hourIndex: number;
  readonly line: number;
  reports: number;
  readonly sums: Map<(typeof MEANS)[number], { sum: number; count: number }>;
  rain: number;
  gust: number;
  thunder: boolean | null;
}

function take(hour: OpenHour, values: HourValues): void {
  hour.reports += 1;
  for (const name of MEANS) {
    const value = values[name] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    const seen = hour.sums.get(name) ?? { sum: 0, count: 0 };
    hour.sums.set(name, { sum: seen.sum + value, count: seen.count + 1 });
  }
  hour.rain += values.rainMm ?? Number.NaN;
  const gust = values.gustMps ?? Number.NaN;
  if (!Number.isNaN(gust) && !(gust <= hour.gust)) hour.gust = gust;
  const heard = values.thunder ?? null;
  if (heard === true || hour.thunder === true) hour.thunder = true;
  else if (heard === null) hour.thunder = null;
}

function valuesOf(hour: OpenHour): HourValues {
  const mean = (name: (typeof MEANS)[number]): number | null => {
    const seen = hour.sums.get(name);
    return seen ? seen.sum / seen.count : null;
  };
  return {
    tempC: mean('tempC'),
    dewPointC: mean('dewPointC'),
    windMps: mean('windMps'),
    rainMm: hour.rain,
    gustMps: hour.gust,
    thunder: hour.thunder,
  };
}
