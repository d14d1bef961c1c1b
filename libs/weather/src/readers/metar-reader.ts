import { type Instant, instantToMs } from '../../../kernel/src/index.ts';
import type { HourValues, RecordHead } from '../growing-record.ts';
import { rangeFault } from './field-ranges.ts';
import { type Metar, parseMetar } from './metar.ts';
import { type LineReader, readingFrame } from './reading.ts';
import { isPrecipitation, isThunder } from './report-weather.ts';

export interface MetarOptions {
  readonly place: RecordHead['place'];
  readonly source: string;
  /**
   * An instant within two weeks of the first report; each report is then the reference of the next. Null where each run of reports begins with
   * one that has its full time before it.
   */
  readonly reference: Instant | null;
}

const MIN_MS = 60_000;

/**
 * Reads METAR and SPECI reports, one a line; a line that begins with a blank goes on with the one before. A leading time such as
 * `201901312250` or `2019-01-31T22:50Z`, as archives write it, is the reference of its report. A report counts for the hour that it ends:
 * 16:53 and 17:00 both tell of the hour from 16:00. Means of several reports, the highest gust. Thunder also when nearby or recent; none is
 * said only of reports by people. Rain is the amount of the remarks where given, 0 when all reports are made by people and see nothing
 * falling, else unknown. An hour whose wind could not be read has none.
 */
export function metarReader({ place, source, reference }: MetarOptions): LineReader {
  const frame = readingFrame();
  let lineNo = 0;
  let pending: { text: string; line: number } | null = null;
  let near = reference;
  let hour: { hourIndex: number; line: number; reports: Metar[] } | null = null;
  let withUnread = 0;
  let firstUnread: string | undefined;

  function close(): void {
    if (!hour) return;
    const values = hourOf(hour.reports);
    const fault = (['windMps', 'gustMps', 'tempC', 'dewPointC', 'rainMm'] as const)
      .map((column) => rangeFault(column, values[column] ?? Number.NaN))
      .find((reason) => reason !== null);
    if (fault) frame.bad(hour.line, fault);
    else frame.add(hour.hourIndex, values, hour.line);
    hour = null;
  }

  function readPending(): void {
    if (!pending) return;
    const { text, line } = pending;
    pending = null;
    const stamped = /^(\d{4})-?(\d{2})-?(\d{2})[T ]?(\d{2}):?(\d{2})Z?[\s,]+(?=\S)/.exec(text);
    const [, year, month, day, hh, mm] = stamped ?? [];
    const stampMs = stamped ? Date.parse(`${year}-${month}-${day}T${hh}:${mm}:00Z`) : Number.NaN;
    if (!Number.isNaN(stampMs)) near = new Date(stampMs).toISOString() as Instant;
    if (near === null) {
      frame.bad(
        line,
        'the year and month are not known; write a time such as 201901312250 before the report',
        text,
      );
      return;
    }
    const result = parseMetar(stamped ? text.slice(stamped[0].length) : text, near);
    if (!result.ok) {
      frame.bad(line, result.problem, text);
      return;
    }
    const report = result.value;
    near = report.observedAt;
    if (report.nil) return;
    if (report.unread.length > 0) {
      withUnread += 1;
      firstUnread ??= `line ${line}: ${report.unread.slice(0, 4).join(' ')}`;
    }
    const hourIndex = Math.floor((instantToMs(report.observedAt) - MIN_MS) / (60 * MIN_MS));
    if (hour && hour.hourIndex !== hourIndex) close();
    hour ??= { hourIndex, line, reports: [] };
    hour.reports.push(report);
  }

  return {
    line(text) {
      lineNo += 1;
      if (text.trim() === '' || text.startsWith('#')) return;
      if (pending && /^\s/.test(text)) {
        pending = { text: `${pending.text} ${text.trim()}`, line: pending.line };
        return;
      }
      readPending();
      pending = { text: text.trim(), line: lineNo };
    },
    finish(policy) {
      readPending();
      close();
      if (withUnread > 0)
        frame.warn(
          'groups-unread',
          `${withUnread} reports have groups that could not be read and are left unknown (first: ${firstUnread}).`,
        );
      return frame.finish({ place, source, standardOffsetMin: 0 }, policy);
    },
  };
}

function hourOf(reports: readonly Metar[]): HourValues {
  const mean = (values: readonly (number | null | undefined)[]): number | null => {
    const known = values.filter((value): value is number => value !== null && value !== undefined);
    return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
  };
  const most = (values: readonly (number | null | undefined)[]): number | null => {
    const known = values.filter((value): value is number => value !== null && value !== undefined);
    return known.length === 0 ? null : Math.max(...known);
  };
  const byPeople = reports.every(
    (report) => !report.auto && !report.weatherMissing && report.unread.length === 0,
  );
  const seen = reports.flatMap((report) => [...report.weather, ...report.recentWeather]);
  const rain = most(reports.map((report) => report.remarkRainMm));
  return {
    tempC: mean(reports.map((report) => report.tempC)),
    dewPointC: mean(reports.map((report) => report.dewPointC)),
    windMps: mean(reports.map((report) => report.wind?.meanMps)),
    gustMps: most(reports.map((report) => report.wind?.gustMps)),
    rainMm: rain ?? (byPeople && !seen.some(isPrecipitation) ? 0 : null),
    thunder: seen.some(isThunder) ? true : byPeople ? false : null,
  };
}
