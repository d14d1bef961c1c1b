import { describe, expect, it } from '@jest/globals';
import { parseInstant } from '../../../libs/kernel/src/index.ts';
import { parseMetar, parseTaf, tafForecast } from '../../../libs/weather/src/index.ts';
import { dataFileText } from '../../builders/data-folder.ts';

/**
 * Reports gathered from the test data of open parsers, several of them altered to be wrong on purpose, where the folder of open data is
 * present. Its texts carry the escapes of the programs they came from (a backslash with s or r), which stand for blanks.
 */
const reference = parseInstant('2024-01-16T00:00:00Z');
const place = { name: '', lat: 0, lon: 0, elevationM: null };

describe('gathered reports, where present', () => {
  it('are all read or refused with a reason; words that cannot be read are listed', () => {
    const text = dataFileText('metar_taf', 'metar_taf.csv');
    if (text === null) return;
    const refusals: string[] = [];
    const unread = { METAR: 0, TAF: 0 };
    const words: string[] = [];
    const rows = text.trim().split('\n').slice(1);
    for (const row of rows) {
      const kind = row.startsWith('TAF') ? 'TAF' : 'METAR';
      const raw = row.slice(row.indexOf(',') + 1, row.lastIndexOf(',')).replace(/\\[rs]/g, ' ');
      const result = kind === 'TAF' ? parseTaf(raw, reference) : parseMetar(raw, reference);
      if (!result.ok) {
        refusals.push(raw);
        continue;
      }
      if (result.value.unread.length > 0) unread[kind] += 1;
      words.push(...result.value.unread);
      if ('changes' in result.value) tafForecast(result.value, place);
    }
    process.stderr.write(
      `${rows.length} reports: ${refusals.length} refused; ${unread.METAR} METAR and ${unread.TAF} TAF with ${words.length} unread words\n`,
    );
    expect(rows.length).toBeGreaterThan(100);
    // Refused are only texts without time, without validity, or with one that cannot be; a quarter was altered or comes from stations
    // that name themselves by three groups.
    expect(refusals.length).toBeLessThanOrEqual(4);
    expect(unread.METAR + unread.TAF).toBeLessThanOrEqual(rows.length * 0.3);
  });
});
