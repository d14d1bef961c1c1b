import { DryspellError } from '../../kernel/src/index.ts';
import { growingRecord, type HourValues, type RecordHead } from './growing-record.ts';
import type { HourlyRecord } from './hourly-record.ts';
import { hourIndexOf } from './record-clock.ts';

/** Hours that follow each other from a start; null is a gap of one hour. */
export interface HoursFrom extends RecordHead {
  /** On the record's clock: `2025-01-01` or `2025-01-01T06`. */
  readonly start: string;
  readonly hours: readonly (HourValues | null)[];
}

/** A record of hours written one by one, for small series. Throws `invalid-input` for a start of another shape. */
export function recordOf({ start, hours, ...head }: HoursFrom): HourlyRecord {
  const parts = /^(\d{4})-(\d{2})-(\d{2})(?:T(\d{2}))?$/.exec(start);
  if (!parts) throw new DryspellError('invalid-input', { field: 'start', value: start });
  const first = hourIndexOf(Number(parts[1]), Number(parts[2]), Number(parts[3]), Number(parts[4] ?? 0));
  const growing = growingRecord();
  hours.forEach((hour, at) => {
    if (hour) growing.add(first + at, hour);
  });
  return growing.finish(head).record;
}
