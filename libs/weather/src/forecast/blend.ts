import { type Answer, cannotSay, DryspellError, known } from '../../../kernel/src/index.ts';
import type { LeadWeights } from './lead-weights.ts';

/** How many members of a forecast have a good day, a bad one, or one of which that cannot be said. */
export interface MemberCounts {
  readonly good: number;
  readonly bad: number;
  readonly unknown: number;
}

/** The odds of a good day, and what they are made of. */
export interface BlendedOdds {
  /** Chance of a good day, 0 to 1. */
  readonly goodChance: number;
  readonly from: 'blend' | 'forecast' | 'records';
  /** What the forecast counted, 0 to 1. */
  readonly weight: number;
  /** Smoothed share of members with a good day; null when the forecast was not used. */
  readonly forecastShare: number | null;
  readonly recordShare: number | null;
  readonly members: MemberCounts | null;
  readonly notes: readonly (
    | 'no-forecast'
    | 'too-few-known-members'
    | 'some-members-unknown'
    | 'beyond-reach-of-forecast'
    | 'no-records'
    | 'default-weight'
  )[];
}

/** So much of a member is added for good and for bad. */
const ADDED_MEMBER = 0.1;

/**
 * Share of known members whose day is good, smoothed: (good + 0.1) / (known + 0.2), so that a single run says 1/12 or 11/12
 * and no run ever says never or surely. An added constant of this kind is common practice; its size is our own choice, small
 * because the doubt in a forecast is in its weight. Cannot say when fewer than half of the members are known.
 */
export function memberShare(members: MemberCounts): Answer<number, 'too-few-known-members'> {
  for (const [field, value] of Object.entries(members)) {
    if (!Number.isInteger(value) || value < 0) throw new DryspellError('invalid-input', { field, value });
  }
  const knownMembers = members.good + members.bad;
  if (knownMembers === 0 || knownMembers < members.unknown) return cannotSay('too-few-known-members');
  return known((members.good + ADDED_MEMBER) / (knownMembers + 2 * ADDED_MEMBER));
}

/**
 * Odds of a good day `leadDays` days ahead: weight x share of members + (1 - weight) x share in the records. Without a usable
 * forecast they are those of the records; without records those of the forecast, where it would count for at least half.
 * Cannot say otherwise. `recordShare` is 0 to 1, null where there are no records; `members` is null where there is no
 * forecast for the day.
 */
export function blendOdds(
  input: {
    readonly leadDays: number;
    readonly members: MemberCounts | null;
    readonly recordShare: number | null;
  },
  weights: LeadWeights,
): Answer<BlendedOdds, 'no-odds'> {
  const { leadDays, members, recordShare } = input;
  if (!Number.isInteger(leadDays) || leadDays < 0)
    throw new DryspellError('invalid-input', { field: 'leadDays', value: leadDays });
  if (recordShare !== null && !(recordShare >= 0 && recordShare <= 1))
    throw new DryspellError('invalid-input', { field: 'recordShare', value: recordShare });
  const lead = weights.byLead[leadDays];
  const weight = lead?.weight ?? 0;
  const share = members === null ? null : memberShare(members);
  const notes: BlendedOdds['notes'][number][] = [];
  if (share === null) notes.push('no-forecast');
  else if (!share.known) notes.push('too-few-known-members');
  else if (weight === 0) notes.push('beyond-reach-of-forecast');
  else if (members !== null && members.unknown > 0) notes.push('some-members-unknown');
  if (recordShare === null) notes.push('no-records');

  if (share?.known && weight > 0) {
    if (lead?.basis === 'default') notes.push('default-weight');
    const forecastShare = share.value;
    if (recordShare !== null) {
      const goodChance = weight * forecastShare + (1 - weight) * recordShare;
      return known({ goodChance, from: 'blend', weight, forecastShare, recordShare, members, notes });
    }
    if (weight >= 0.5) {
      return known({
        goodChance: forecastShare,
        from: 'forecast',
        weight: 1,
        forecastShare,
        recordShare,
        members,
        notes,
      });
    }
  }
  if (recordShare === null) return cannotSay('no-odds', notes);
  return known({
    goodChance: recordShare,
    from: 'records',
    weight: 0,
    forecastShare: null,
    recordShare,
    members,
    notes,
  });
}
