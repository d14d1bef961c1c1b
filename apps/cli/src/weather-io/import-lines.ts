import type { StoredHours } from '../../../../libs/data/src/weather/observations.repository.ts';
import type { HourlyRecord, Reading } from '../../../../libs/weather/src/index.ts';

/** Bad lines that are shown; all are in the JSON. */
const SHOWN_LINES = 10;

/** What was found in a file, in lines. */
export function findingLines(reading: Reading, warnings: readonly { readonly words: string }[]): string[] {
  const { badLines, badLineCount, gaps } = reading;
  const shown = badLines.slice(0, SHOWN_LINES).map(({ line, reason, value }) => {
    return `  line ${line}: ${reason}${value === undefined ? '' : ` ("${value}")`}`;
  });
  const more = badLineCount > shown.length ? [`  and ${badLineCount - shown.length} more`] : [];
  return [
    ...(badLineCount > 0 ? [`${counted(badLineCount, 'line')} cannot be read:`, ...shown, ...more] : []),
    ...(gaps.hours > 0
      ? [
          `${gaps.hours === 1 ? '1 hour is' : `${gaps.hours} hours are`} missing in ${counted(gaps.spanCount, 'gap')}`,
        ]
      : []),
    ...warnings.map(({ words }) => `note: ${words}`),
  ];
}

/** What was stored, in one line. */
export function storedLine(key: string, record: HourlyRecord, stored: StoredHours): string {
  const { added, changed, same, removed } = stored;
  const parts = [
    ...(removed > 0 ? [`${removed} thrown away`] : []),
    `${added} new`,
    `${changed} changed`,
    `${same} as they were`,
  ];
  return `${key}: ${record.hourIndex.length} hours read in (${parts.join(', ')})`;
}

function counted(count: number, thing: string): string {
  return `${count} ${thing}${count === 1 ? '' : 's'}`;
}
