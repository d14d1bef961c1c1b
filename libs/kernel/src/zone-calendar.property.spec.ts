import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { DateTime } from 'luxon';
import {
  hoursInLocalDay,
  instantFromMs,
  instantToLocal,
  instantToMs,
  isKnownZone,
  localToInstant,
  luxonZone,
  startOfLocalDay,
  toDay,
  toLocalDate,
  zoneNames,
} from './index.ts';

const MS_PER_DAY = 86_400_000;
const zone = fc.constantFrom(...zoneNames());
const epochMs = fc.integer({ min: Date.UTC(1975, 0, 1), max: Date.UTC(2037, 0, 1) });

describe('the zone calendar, in every zone', () => {
  it('leads from an instant to wall time and back to the same instant', () => {
    fc.assert(
      fc.property(zone, epochMs, (name, ms) => {
        const second = Math.floor(ms / 1000) * 1000;
        const local = instantToLocal(instantFromMs(second), name);
        const both = (['first', 'second'] as const).map((inOverlap) =>
          instantToMs(localToInstant({ ...local, zone: name }, { inOverlap }).instant),
        );
        expect(both).toContain(second);
      }),
      { numRuns: 400 },
    );
  });

  it('reads the same wall time as Luxon does over the same zone', () => {
    fc.assert(
      fc.property(zone, epochMs, (name, ms) => {
        const local = instantToLocal(instantFromMs(ms), name);
        const luxon = DateTime.fromMillis(ms, { zone: luxonZone(name) });
        expect(`${local.date}T${local.time}`).toBe(luxon.toFormat("yyyy-MM-dd'T'HH:mm:ss"));
      }),
      { numRuns: 300 },
    );
  });

  it('puts days end to end: the hours of a day reach from its start to the start of the next', () => {
    fc.assert(
      fc.property(zone, epochMs, (name, ms) => {
        const date = toLocalDate(Math.floor(ms / MS_PER_DAY));
        const next = toLocalDate(toDay(date) + 1);
        const start = startOfLocalDay(date, name);
        const end = startOfLocalDay(next, name);
        if (start === undefined || end === undefined) return;
        expect(instantToMs(end) - instantToMs(start)).toBe(hoursInLocalDay(date, name) * 3_600_000);
      }),
      { numRuns: 300 },
    );
  });

  it('gives exactly one instant for 06:00 on every local day of a year, in every zone', () => {
    const first = toDay(toLocalDate(Math.floor(Date.UTC(2026, 0, 1) / MS_PER_DAY)));
    const dates = Array.from({ length: 365 }, (_, index) => toLocalDate(first + index));
    const outOfOrder = zoneNames().filter((name) => {
      const instants = dates.map((date) => localToInstant({ date, time: '06:00', zone: name }).instant);
      return instants.some((instant, index) => index > 0 && instant <= (instants[index - 1] as string));
    });
    expect(outOfOrder).toEqual([]);
  });

  it('does not know names outside the data, nor other spellings', () => {
    expect(isKnownZone('America/Halifax')).toBe(true);
    expect(isKnownZone('america/halifax')).toBe(false);
    expect(isKnownZone('EST5')).toBe(false);
    expect(() => luxonZone('Mars/Olympus')).toThrow(expect.objectContaining({ code: 'unknown-zone' }));
  });
});
