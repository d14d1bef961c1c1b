import { evidence, fitLeadWeights, judgeDay, memberShare, shiftOn } from '../../../weather/src/index.ts';
import { computeWindow } from '../windows/compute-window.ts';
import { assembleBrief } from './assemble-brief.ts';
import { firstOutsideDay } from './outside-day.ts';

/**
 * What the edge computes with when it makes briefs and evidence from rows. Edge libraries take only types from pure ones, so whoever calls
 * them hands this in.
 */
export const briefCore = {
  firstOutsideDay,
  computeWindow,
  fitLeadWeights,
  assembleBrief,
  evidence,
  judgeDay,
  memberShare,
  shiftOn,
} as const;

export type BriefCore = typeof briefCore;
