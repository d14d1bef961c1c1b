import { describe, expect, it } from '@jest/globals';
import { blendOdds, defaultLeadWeights, memberShare } from '../index.ts';

const ensemble = defaultLeadWeights('ensemble');
const single = defaultLeadWeights('single');
const members = (good: number, bad: number, unknown = 0) => ({ good, bad, unknown });

describe('the share of members', () => {
  it('of one run is never 0 or 1, and of many nearly the plain share', () => {
    expect(memberShare(members(1, 0))).toEqual({ known: true, value: expect.closeTo(11 / 12, 12) });
    expect(memberShare(members(0, 1))).toEqual({ known: true, value: expect.closeTo(1 / 12, 12) });
    expect(memberShare(members(25, 25))).toEqual({ known: true, value: expect.closeTo(0.5, 12) });
    expect(memberShare(members(50, 0))).toEqual({ known: true, value: expect.closeTo(50.1 / 50.2, 12) });
  });

  it('cannot be said of members of which most are unknown; unknown is never good', () => {
    expect(memberShare(members(2, 1, 4))).toMatchObject({ known: false });
    expect(memberShare(members(0, 0, 1))).toMatchObject({ known: false });
    expect(memberShare(members(0, 0, 0))).toMatchObject({ known: false });
    expect(memberShare(members(2, 2, 4))).toMatchObject({ known: true });
  });
});

describe('odds for a coming day', () => {
  it('weigh forecast and records by lead', () => {
    const odds = blendOdds({ leadDays: 3, members: members(10, 40), recordShare: 0.6 }, ensemble);
    // 0.78 x 10.1 / 50.2 + 0.22 x 0.6, worked by hand.
    expect(odds).toMatchObject({
      known: true,
      value: { from: 'blend', weight: 0.78, goodChance: expect.closeTo(0.2889322709, 9) },
    });
  });

  it('are those of the records beyond the reach of the forecast, or without one, and say so', () => {
    expect(blendOdds({ leadDays: 40, members: members(1, 0), recordShare: 0.6 }, single)).toMatchObject({
      value: { from: 'records', goodChance: 0.6, notes: ['beyond-reach-of-forecast'], forecastShare: null },
    });
    expect(blendOdds({ leadDays: 1, members: null, recordShare: 0.6 }, single)).toMatchObject({
      value: { from: 'records', goodChance: 0.6, notes: ['no-forecast'] },
    });
    expect(blendOdds({ leadDays: 1, members: members(1, 0, 5), recordShare: 0.6 }, ensemble)).toMatchObject({
      value: { from: 'records', goodChance: 0.6, notes: ['too-few-known-members'] },
    });
  });

  it('are those of the forecast without records, only where it would count for at least half', () => {
    expect(blendOdds({ leadDays: 1, members: members(1, 0), recordShare: null }, single)).toMatchObject({
      known: true,
      value: { from: 'forecast', weight: 1, notes: ['no-records', 'default-weight'] },
    });
    expect(blendOdds({ leadDays: 8, members: members(1, 0), recordShare: null }, single)).toMatchObject({
      known: false,
      reason: 'no-odds',
      missing: ['no-records', 'default-weight'],
    });
    expect(blendOdds({ leadDays: 1, members: null, recordShare: null }, single)).toMatchObject({
      known: false,
      missing: ['no-forecast', 'no-records'],
    });
  });
});
