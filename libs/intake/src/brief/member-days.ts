import type { BriefLimit } from '../../../contracts/src/http/brief-schema.ts';
import { type Instant, instantFromMs } from '../../../kernel/src/index.ts';
import {
  type Evidence,
  type EvidenceBreach,
  evidence,
  type Forecast,
  type JudgedDay,
  judgeDay,
  type MemberCounts,
  type SiteDay,
  type SiteDayWork,
  shiftOn,
} from '../../../weather/src/index.ts';

/** What the runs of a forecast say of one site day. */
export interface MemberDays {
  readonly counts: MemberCounts;
  /** Limits that any run breaks in working hours, the most often broken first. */
  readonly limits: readonly BriefLimit[];
  /** Latest starts of the runs whose day is good. */
  readonly latestStart: {
    readonly middle: Instant;
    readonly earliest: Instant;
    readonly members: number;
  } | null;
}

/** Judges the day in every run. A day that can only be closed on the morrow counts as bad: the brief is about that day. */
export function memberDays(forecast: Forecast, work: SiteDayWork, day: SiteDay): MemberDays {
  const { shiftFromMin, shiftToMin } = shiftOn(day.date, day);
  const judged = forecast.members.map((member) => judgeDay(member, work, day));
  const count = (states: readonly JudgedDay['state'][]): number =>
    judged.filter(({ state }) => states.includes(state)).length;
  return {
    counts: { good: count(['good']), bad: count(['bad', 'split']), unknown: count(['unknown']) },
    limits: limitsOf(
      evidence({
        steps: work.steps,
        forecast,
        observed: null,
        from: instantFromMs(shiftFromMin * 60_000),
        to: instantFromMs(shiftToMin * 60_000),
        zone: day.shift.zone,
      }),
    ),
    latestStart: latestOf(judged.flatMap(({ latestStart }) => (latestStart === null ? [] : [latestStart]))),
  };
}

function latestOf(starts: readonly Instant[]): MemberDays['latestStart'] {
  const sorted = [...starts].sort();
  const [earliest] = sorted;
  if (earliest === undefined) return null;
  return { middle: sorted[(sorted.length - 1) >> 1] as Instant, earliest, members: sorted.length };
}

/** The limits that runs break, each with its worst hour; steps that share a limit share a line. */
function limitsOf({ hours }: Evidence): BriefLimit[] {
  const groups = new Map<string, { readonly hour: Instant; readonly breach: EvidenceBreach }[]>();
  for (const { hour, breaches } of hours) {
    for (const breach of breaches) {
      if (breach.membersBreaking === 0) continue;
      const name = `${breach.limit} ${breach.limitValue} ${breach.loadHeightM}`;
      groups.set(name, [...(groups.get(name) ?? []), { hour, breach }]);
    }
  }
  return [...groups.values()]
    .map(limitOf)
    .sort((a, b) => b.members - a.members || (a.firstHour < b.firstHour ? -1 : 1));
}

function limitOf(lines: readonly { readonly hour: Instant; readonly breach: EvidenceBreach }[]): BriefLimit {
  const [first] = lines as [(typeof lines)[number]];
  const { limit, limitValue } = first.breach;
  const lowIsWorse = limit === 'tempMinC' || limit === 'dewPointMarginC';
  const worstOf = (values: readonly (number | null)[]): number | null => {
    const known = values.filter((value) => value !== null);
    return known.length === 0 ? null : lowIsWorse ? Math.min(...known) : Math.max(...known);
  };
  return {
    limit,
    limitValue,
    steps: [...new Set(lines.map(({ breach }) => breach.step))],
    members: Math.max(...lines.map(({ breach }) => breach.membersBreaking)),
    ofMembers: Math.max(...lines.map(({ breach }) => breach.membersKnown)),
    medianValue: worstOf(lines.map(({ breach }) => breach.forecastMedian)),
    worstValue: worstOf(lines.map(({ breach }) => breach.forecastWorst)),
    firstHour: first.hour,
    hours: new Set(lines.map(({ hour }) => hour)).size,
  };
}
