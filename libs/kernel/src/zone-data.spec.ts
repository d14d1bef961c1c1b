import { describe, expect, it } from '@jest/globals';
import { DateTime } from 'luxon';
import { luxonZone, offsetMinAt, zoneNames } from './index.ts';

const reading = (zone: string, instant: string) => DateTime.fromISO(instant, { zone: luxonZone(zone) });

describe('zones handed to Luxon', () => {
  it('show the time of our data in every kind of formatting, also where Luxon would ask Intl', () => {
    // British Columbia stays at UTC-7 by the IANA releases of 2026; older data would show 08:00.
    const vancouver = reading('America/Vancouver', '2026-12-05T16:00:00Z');
    expect(vancouver.toISO()).toBe('2026-12-05T09:00:00.000-07:00');
    expect(vancouver.toFormat('HH:mm')).toBe('09:00');
    expect(vancouver.setLocale('en-GB').toLocaleString(DateTime.TIME_24_SIMPLE)).toBe('09:00');
    expect(vancouver.toLocaleParts().length).toBeGreaterThan(0);
  });

  it('name and write their offsets', () => {
    const stJohns = reading('America/St_Johns', '2026-01-15T12:00:00Z');
    expect([stJohns.toFormat('ZZ'), stJohns.offsetNameShort, stJohns.isInDST]).toEqual([
      '-03:30',
      'NST',
      false,
    ]);
    expect(reading('America/St_Johns', '2026-07-15T12:00:00Z').isInDST).toBe(true);
    expect(luxonZone('America/St_Johns').equals(luxonZone('America/St_Johns'))).toBe(true);
    expect(luxonZone('America/St_Johns').equals(luxonZone('America/Halifax'))).toBe(false);
  });

  it('know a universal zone from one that changes its clocks', () => {
    expect(luxonZone('UTC').isUniversal).toBe(true);
    expect(luxonZone('America/Halifax').isUniversal).toBe(false);
    expect(Object.is(offsetMinAt('UTC', 0), 0)).toBe(true);
    expect(zoneNames()).toContain('Asia/Kathmandu');
  });
});
