import type { HourlyRecord } from './hourly-record.ts';

/** What is known of one hour; what is left out or null is missing. */
export interface HourValues {
  readonly tempC?: number | null;
  readonly dewPointC?: number | null;
  readonly rainMm?: number | null;
  readonly windMps?: number | null;
  readonly gustMps?: number | null;
  readonly thunder?: boolean | null;
}

/** What a record says about itself beside its hours. */
export type RecordHead = Pick<HourlyRecord, 'place' | 'source' | 'standardOffsetMin' | 'typicalYear'>;

/** A record that is still being read: columns that double when they are full, so that no hour lies in memory twice for long. */
export interface GrowingRecord {
  readonly length: number;
  /** `line` is where the hour stands in its file, for what is said of hours that are there twice. */
  add(hourIndex: number, values: HourValues, line?: number): void;
  /** The record in order of time; of hours that are there twice the first stays. Its columns are cut to length. */
  finish(head: RecordHead): { readonly record: HourlyRecord; readonly doubled: readonly DoubledHour[] };
}

/** An hour that was there before, with its line and the line of the one that stays. */
export interface DoubledHour {
  readonly hourIndex: number;
  readonly line: number;
  readonly firstLine: number;
}

/** The columns of a record that hold measured values. */
export type ValueColumn = 'tempC' | 'dewPointC' | 'rainMm' | 'windMps' | 'gustMps';
const VALUE_COLUMNS: readonly ValueColumn[] = ['tempC', 'dewPointC', 'rainMm', 'windMps', 'gustMps'];

const FIRST_CAPACITY = 1024;

export function growingRecord(): GrowingRecord {
  let length = 0;
  let ascending = true;
  let hourIndex = new Int32Array(FIRST_CAPACITY);
  let thunder = new Int8Array(FIRST_CAPACITY);
  let lines = new Int32Array(FIRST_CAPACITY);
  const values: Record<ValueColumn, Float32Array> = {
    tempC: new Float32Array(FIRST_CAPACITY),
    dewPointC: new Float32Array(FIRST_CAPACITY),
    rainMm: new Float32Array(FIRST_CAPACITY),
    windMps: new Float32Array(FIRST_CAPACITY),
    gustMps: new Float32Array(FIRST_CAPACITY),
  };

  /** Each column in turn, so that only one of them is there twice at a time. */
  function resize(to: number): void {
    hourIndex = resized(hourIndex, Int32Array, to, length);
    thunder = resized(thunder, Int8Array, to, length);
    lines = resized(lines, Int32Array, to, length);
    for (const name of VALUE_COLUMNS) values[name] = resized(values[name], Float32Array, to, length);
  }

  return {
    get length() {
      return length;
    },
    add(hour, given, line = 0) {
      if (length === hourIndex.length) resize(length * 2);
      if (length > 0 && hour <= (hourIndex[length - 1] as number)) ascending = false;
      hourIndex[length] = hour;
      lines[length] = line;
      for (const name of VALUE_COLUMNS) values[name][length] = given[name] ?? Number.NaN;
      const heard = given.thunder ?? null;
      thunder[length] = heard === null ? -1 : Number(heard);
      length += 1;
    },
    finish(head) {
      const doubled: DoubledHour[] = [];
      if (!ascending) {
        // A stable sort: of hours that are there twice the first in the file comes first.
        const order = Uint32Array.from({ length }, (_, at) => at).sort(
          (a, b) => (hourIndex[a] as number) - (hourIndex[b] as number) || a - b,
        );
        let kept = 0;
        for (const at of order) {
          const first = order[kept - 1];
          if (first === undefined || hourIndex[at] !== hourIndex[first]) order[kept++] = at;
          else
            doubled.push({
              hourIndex: hourIndex[at] as number,
              line: lines[at] as number,
              firstLine: lines[first] as number,
            });
        }
        const chosen = order.subarray(0, kept);
        hourIndex = Int32Array.from(chosen, (at) => hourIndex[at] as number);
        thunder = Int8Array.from(chosen, (at) => thunder[at] as number);
        for (const name of VALUE_COLUMNS) {
          const column = values[name];
          values[name] = Float32Array.from(chosen, (at) => column[at] as number);
        }
        length = kept;
      }
      if (hourIndex.length !== length) resize(length);
      return { record: { ...head, hourIndex, ...values, thunder }, doubled };
    },
  };
}

function resized<Column extends Int32Array | Int8Array | Float32Array>(
  column: Column,
  Kind: new (length: number) => Column,
  to: number,
  length: number,
): Column {
  const next = new Kind(to);
  next.set(column.subarray(0, Math.min(length, to)));
  return next;
}
