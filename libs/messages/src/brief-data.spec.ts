import { describe, expect, it } from '@jest/globals';
import type { MorningBrief } from '../../contracts/src/http/brief-schema.ts';
import { morningBrief, morningBriefData } from './brief-data.ts';

/** A brief of which nothing is known but where and when. */
const nothingKnown: MorningBrief = {
  visit: {
    id: '6a1f2a52-0f0b-4c3e-9d5b-111111111111',
    job: 'gull-point',
    title: 'Wren dome at Gull Point',
    site: 'gull-point',
    siteName: 'Gull Point',
    zone: 'America/Halifax',
    day: '2027-05-13',
    shiftFrom: '08:00',
    shiftTo: '18:00',
    crew: 'Larch',
    currency: 'CAD',
  },
  madeAt: '2027-05-12T19:00:00.000Z',
  advice: 'cannot-say',
  basis: 'none',
  reasons: [{ code: 'forecast-missing' }, { code: 'failed-start-cost-unknown' }],
  odds: null,
  forecast: {
    state: 'missing',
    source: null,
    series: null,
    issuedAt: null,
    heardAt: null,
    ageHours: null,
    leadDays: null,
    fault: null,
  },
  rule: null,
  failedStart: { knownCents: 0, parts: [{ key: 'truck', cents: null }] },
  holding: { knownCents: 125_000, parts: [{ key: 'crew-day', cents: 125_000 }] },
  deadline: null,
  deadlinesUnknown: [],
  limits: [],
  latestStart: null,
  sunrise: null,
  sunset: null,
  unknown: [],
};

describe('a brief as its message is told it', () => {
  it('keeps what is unknown unknown: no odds, no rule, no deadline, and a price that is not there is named', () => {
    const data = morningBriefData(nothingKnown, null);
    expect(data).toMatchObject({
      advice: 'cannot-say',
      odds: null,
      rule: null,
      deadline: null,
      latestStart: null,
      neverForecast: true,
      reasons: ['forecast-missing', 'failed-start-cost-unknown'],
      failedStart: { missing: ['truck'] },
      holding: { sum: 'CAD 1,250.00', missing: [] },
    });
    expect(morningBrief.parse(data).failedStart.short).toMatch(/\+ \?$/);
  });

  it('says when a list of unknowns goes on beyond the mail', () => {
    const unknown = Array.from({ length: 15 }, (_, at) => `unknown thing ${at + 1}`);
    const { unknown: told } = morningBriefData({ ...nothingKnown, unknown }, null);
    expect(told).toHaveLength(12);
    expect(told.at(-1)).toBe('and 4 more; see the brief on screen');
    expect(morningBriefData({ ...nothingKnown, unknown: unknown.slice(0, 12) }, null).unknown).toEqual(
      unknown.slice(0, 12),
    );
  });
});
