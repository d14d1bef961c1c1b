import { milestoneKinds, type SeasonFile, type SeasonRow } from '../../../contracts/src/index.ts';
import {
  chainEnd,
  type DayDistribution,
  dayAtConfidence,
  latestOf,
  type Milestone,
} from '../../../freight/src/index.ts';
import { type Answer, cannotSay, type Day, known } from '../../../kernel/src/index.ts';
import { dayOfCell } from './day-mask.ts';

/** The day on which the goods of a job can leave the warehouse, and where it comes from. */
export interface GoodsDay {
  readonly day: Day;
  readonly from: 'given' | 'milestones';
  /** Consignments whose chain stops before the goods are ready to go; what is missing was not reckoned with. */
  readonly shortChains: readonly string[];
}

/**
 * The goods day of a job: the one given with it, else the day by which all its consignments are ready to go with the chance
 * `confidence`. A consignment is ready when its own chain and those of its containers have ended; chains are taken as independent.
 * Cannot say when the job has no consignment, or a chain cannot be reckoned; `missing` names the consignment and milestone.
 */
export function goodsDayOfJob(
  file: SeasonFile,
  job: SeasonRow<'jobs'>,
  confidence: number,
  asOfDay: Day,
): Answer<GoodsDay, string> {
  if (job.goodsFrom) return known({ day: dayOfCell(job.goodsFrom), from: 'given', shortChains: [] });
  const consignments = file.consignmentJobs
    .filter((row) => row.job === job.key)
    .map((row) => row.consignment);
  if (consignments.length === 0) return cannotSay('no-consignment', [job.key]);
  const ends: DayDistribution[] = [];
  const shortChains: string[] = [];
  for (const consignment of consignments) {
    const chains = chainsOf(file, consignment);
    if (chains.length === 0) return cannotSay('no-milestones', [consignment]);
    for (const chain of chains) {
      const end = chainEnd(chain, asOfDay);
      if (!end.known) return cannotSay(end.reason, [consignment, ...end.missing]);
      ends.push(end.value);
      if (chain.at(-1)?.kind !== milestoneKinds.at(-1)) shortChains.push(consignment);
    }
  }
  return known({
    day: dayAtConfidence(latestOf(ends), confidence),
    from: 'milestones',
    shortChains: [...new Set(shortChains)],
  });
}

/** The chains of a consignment, its own and those of its containers, each in the order of the milestones. */
export function chainsOf(file: SeasonFile, consignment: string): Milestone[][] {
  const numbers = file.containers.filter((row) => row.consignment === consignment).map((row) => row.number);
  const chains = [
    file.milestones.filter((row) => row.consignment === consignment),
    ...numbers.map((number) => file.milestones.filter((row) => row.container === number)),
  ];
  return chains
    .filter((rows) => rows.length > 0)
    .map((rows) => [...rows].sort(byPlaceInChain).map(milestoneOf));
}

/** Orders milestone rows as they come. */
export function byPlaceInChain(a: SeasonRow<'milestones'>, b: SeasonRow<'milestones'>): number {
  return milestoneKinds.indexOf(a.kind) - milestoneKinds.indexOf(b.kind);
}

function milestoneOf(row: SeasonRow<'milestones'>): Milestone {
  return {
    kind: row.kind,
    plannedDay: row.planned ? dayOfCell(row.planned) : null,
    lowDays: row.lowDays ?? null,
    likelyDays: row.likelyDays ?? null,
    highDays: row.highDays ?? null,
    actualDay: row.actual ? dayOfCell(row.actual) : null,
  };
}
