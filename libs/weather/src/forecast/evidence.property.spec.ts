import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { instantFromMs, instantToMs, parseInstant } from '../../../kernel/src/index.ts';
import { layOutDays } from '../day-grid.ts';
import { limitTable, markHours } from '../hour-marks.ts';
import { evidence, type OutsideStep, recordOf } from '../index.ts';

const maybe = (min: number, max: number) =>
  fc.oneof(fc.constant(Number.NaN), fc.double({ min, max, noNaN: true }));
const hour = fc.record({
  tempC: maybe(-5, 30),
  dewPointC: maybe(-8, 20),
  rainMm: maybe(0, 1),
  windMps: maybe(0, 14),
  gustMps: maybe(0, 20),
  thunder: fc.constantFrom(true, false, null),
});
const limit = (min: number, max: number) => fc.option(fc.double({ min, max, noNaN: true }));
const limits = fc.record({
  gustMps: limit(4, 15),
  meanWindMps: limit(3, 12),
  loadHeightM: limit(5, 40),
  rainMmPerHour: limit(0, 0.5),
  tempMinC: limit(-2, 12),
  tempMaxC: limit(15, 28),
  dewPointMarginC: limit(0, 5),
  needsDaylight: fc.constant(false),
});

describe('evidence', () => {
  it('judges every hour of a step as the dry windows do', () => {
    fc.assert(
      fc.property(fc.array(hour, { minLength: 24, maxLength: 24 }), limits, (hours, stepLimits) => {
        const place = { name: 'x', lat: 0, lon: 0, elevationM: null };
        const record = recordOf({
          place,
          source: 'x',
          standardOffsetMin: 0,
          typicalYear: false,
          start: '2027-05-04',
          hours,
        });
        const step: OutsideStep = {
          key: 'lift',
          durationMin: 60,
          interruptible: false,
          limits: stepLimits,
          dryAfterMin: 0,
          lagMin: 0,
          maxLagMin: null,
          mayStopAfter: false,
        };
        const table = limitTable([[{ steps: [step], makeSafeGustMps: null }]]);
        const need = table.needs.get(step);
        const marks = markHours(layOutDays(record), table);
        const from = parseInstant('2027-05-04T00:00:00Z');
        const to = instantFromMs(instantToMs(from) + 24 * 3_600_000);
        const made = evidence({ steps: [step], forecast: null, observed: record, from, to, zone: 'UTC' });
        made.hours.forEach(({ verdicts, unknown }, at) => {
          // An hour without any reading is no proof, even for a step without limits; windows have no need to be so strict.
          if (unknown.filter((name) => name !== 'thunder').length === 5) return;
          const broken = ((marks.broken[at] as number) & (need?.limitBits ?? 0)) !== 0;
          const open = ((marks.unknown[at] as number) & (need?.fieldBits ?? 0)) !== 0;
          expect(verdicts[0]?.verdict).toBe(broken ? 'not ok' : open ? 'cannot say' : 'ok');
        });
      }),
      { numRuns: 150 },
    );
  });
});
