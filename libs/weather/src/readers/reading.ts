import { growingRecord, type HourValues, type RecordHead } from '../growing-record.ts';
import type { BadLine, HourlyRecord } from '../hourly-record.ts';
import { hourText } from '../record-clock.ts';
import { type HourSpan, hoursIn, isTypicalYear, missingSpans } from './missing-hours.ts';
import { plausibility } from './plausibility.ts';

/** What to do when a file has bad lines. */
export interface ReadingPolicy {
  /** Keep the good lines. Without it one bad line means no record, and all bad lines are still reported. */
  readonly keepGood: boolean;
}

/** Something odd that a person should see before the record is used. The words say what to do. */
export interface ReadingWarning {
  readonly code: string;
  readonly words: string;
}

/** What came out of a file. */
export interface Reading {
  /** Null where there was no hour, no place, or bad lines that nobody said to leave out. */
  readonly record: HourlyRecord | null;
  /** The first bad lines, `MOST_LISTED` at most, in the order of the file; `badLineCount` counts them all. */
  readonly badLines: readonly BadLine[];
  readonly badLineCount: number;
  /** Hours that were good, whether or not they are handed out. */
  readonly goodHours: number;
  /** Hours missing between the first and the last one, and the first spans of them. */
  readonly gaps: { readonly hours: number; readonly spanCount: number; readonly spans: readonly HourSpan[] };
  readonly warnings: readonly ReadingWarning[];
}

/** Takes a file line by line and is finished once, so that a long file never lies in memory as a whole. */
export interface LineReader {
  line(text: string): void;
  finish(policy: ReadingPolicy): Reading;
}

export const MOST_LISTED = 200;
const LONGEST_VALUE = 80;

/** The part that all readers share: bad lines, hours, and what can be said at the end. */
export interface ReadingFrame {
  readonly hourCount: number;
  bad(line: number, reason: string, value?: string): void;
  warn(code: string, words: string): void;
  add(hourIndex: number, values: HourValues, line: number): void;
  /** `revise` may take values back before the figures are looked at. */
  finish(
    head: Omit<RecordHead, 'typicalYear'> | null,
    policy: ReadingPolicy,
    revise?: (record: HourlyRecord) => void,
  ): Reading;
}

export function readingFrame(): ReadingFrame {
  const growing = growingRecord();
  const listed: BadLine[] = [];
  const warnings: ReadingWarning[] = [];
  let badCount = 0;

  function bad(line: number, reason: string, value?: string): void {
    badCount += 1;
    if (listed.length >= MOST_LISTED) return;
    listed.push(
      value === undefined ? { line, reason } : { line, reason, value: value.slice(0, LONGEST_VALUE) },
    );
  }

  const without = (): Reading => ({
    record: null,
    badLines: listed,
    badLineCount: badCount,
    goodHours: growing.length,
    gaps: { hours: 0, spanCount: 0, spans: [] },
    warnings,
  });

  return {
    get hourCount() {
      return growing.length;
    },
    bad,
    warn(code, words) {
      warnings.push({ code, words });
    },
    add(hourIndex, values, line) {
      growing.add(hourIndex, values, line);
    },
    finish(head, policy, revise) {
      if (growing.length === 0) {
        if (head) warnings.push({ code: 'no-hours', words: 'The file holds no hour that can be read.' });
        return without();
      }
      if (!head) return without();
      const { record: plain, doubled } = growing.finish({ ...head, typicalYear: false });
      for (const { line, firstLine, hourIndex } of doubled)
        bad(line, `the hour ${hourText(hourIndex)} is there already, on line ${firstLine}; the first stays`);
      listed.sort((a, b) => a.line - b.line);
      const record = { ...plain, typicalYear: isTypicalYear(plain.hourIndex) };
      revise?.(record);
      const spans = missingSpans(record);
      warnings.push(...plausibility(record, { spans, doubled: doubled.map(({ hourIndex }) => hourIndex) }));
      return {
        record: badCount === 0 || policy.keepGood ? record : null,
        badLines: listed,
        badLineCount: badCount,
        goodHours: record.hourIndex.length,
        gaps: { hours: hoursIn(spans), spanCount: spans.length, spans: spans.slice(0, MOST_LISTED) },
        warnings,
      };
    },
  };
}

/** Feeds a reader with pieces of text of any size; lines may end in LF, CR LF or CR, also where one piece ends and the next begins. */
export function lineFeeder(reader: Pick<LineReader, 'line'>): { feed(piece: string): void; end(): void } {
  let rest = '';
  let afterReturn = false;
  return {
    feed(piece) {
      let text = rest + (afterReturn && piece.startsWith('\n') ? piece.slice(1) : piece);
      if (piece !== '') afterReturn = false;
      if (text.endsWith('\r')) {
        afterReturn = true;
        text = `${text.slice(0, -1)}\n`;
      }
      const lines = text.split(/\r\n|\n|\r/);
      rest = lines.pop() as string;
      for (const line of lines) reader.line(line);
    },
    end() {
      if (rest !== '') reader.line(rest);
      rest = '';
    },
  };
}

/** Reads a text that is in memory anyway. */
export function readText(reader: LineReader, text: string, policy: ReadingPolicy): Reading {
  const feeder = lineFeeder(reader);
  // In pieces, so that the lines of a long text are not all there at once.
  for (let at = 0; at < text.length; at += 65_536) feeder.feed(text.slice(at, at + 65_536));
  feeder.end();
  return reader.finish(policy);
}
