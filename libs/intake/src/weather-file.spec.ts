import { describe, expect, it } from '@jest/globals';
import { lineFeeder } from '../../weather/src/index.ts';
import { type TableFacts, weatherFileReader } from './index.ts';

const target = { name: 'Invented Field', lat: 44, lon: -63, elevationM: null, source: null };

function read(text: string, table: TableFacts = {}) {
  const reader = weatherFileReader({ format: 'auto', target, table });
  const feeder = lineFeeder(reader);
  feeder.feed(text);
  feeder.end();
  return { ...reader.finish({ keepGood: false }), lines: reader.lines };
}

describe('a weather file of a kind that nobody named', () => {
  it('is known by its first line', () => {
    const epw = read(
      '\n\uFEFFLOCATION,Head,-,CAN,x,0,44.6,-63.5,-4,30\nDATA PERIODS,1,1,Data,Sunday,1/1,1/1\n',
    );
    expect(epw.warnings[0]?.code).toBe('no-hours');
    const table = read('time,wind (m/s)\n2019-02-28T22:00Z,5\n');
    expect([table.record?.windMps[0], table.record?.place.name, table.lines]).toEqual([
      5,
      'Invented Field',
      2,
    ]);
    const reports = read('201902282250 METAR YUDO 282250Z 27005MPS\nMETAR YUDO 282350Z 27007MPS\n');
    expect([...(reports.record?.windMps ?? [])]).toEqual([5, 7]);
    expect(reports.record?.source).toBe('METAR reports');
  });

  it('says what reports without a full time lack', () => {
    expect(read('METAR YUDO 282250Z 27005MPS').badLines[0]?.reason).toContain('year and month are not known');
  });
});
