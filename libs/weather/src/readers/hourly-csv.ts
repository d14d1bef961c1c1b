import type { HourlyRecord } from '../hourly-record.ts';
import { hourText } from '../record-clock.ts';

/** The header row of `hourlyCsv`; `csvReader` knows each of these names with its unit. */
const HEADER = 'time,tempC,dewPointC,rainMm,windMps,gustMps,thunder';

/**
 * A record as lines of a table, one an hour, that `csvReader` reads back to the same hours: times with their offset, units in the
 * headers, an empty cell for what is missing. Figures have up to three places.
 */
export function* hourlyCsv(record: HourlyRecord): Generator<string> {
  yield HEADER;
  const offset = offsetText(record.standardOffsetMin);
  for (let at = 0; at < record.hourIndex.length; at += 1) {
    const cells = [
      `${hourText(record.hourIndex[at] as number).replace(' ', 'T')}${offset}`,
      ...[record.tempC, record.dewPointC, record.rainMm, record.windMps, record.gustMps].map((column) =>
        figure(column[at] as number),
      ),
      record.thunder[at] === -1 ? '' : String(record.thunder[at]),
    ];
    yield cells.join(',');
  }
}

function figure(value: number): string {
  return Number.isNaN(value) ? '' : String(Number(value.toFixed(3)));
}

function offsetText(offsetMin: number): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  const size = Math.abs(offsetMin);
  return `${offsetMin < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
