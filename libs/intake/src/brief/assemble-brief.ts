import type { BriefCostPart, MorningBrief } from '../../../contracts/src/http/brief-schema.ts';
import { type Answer, DryspellError, type Instant, instantFromMs } from '../../../kernel/src/index.ts';
import {
  type BlendedOdds,
  blendOdds,
  type Forecast,
  type GoOrHoldAdvice,
  type GoOrHoldInput,
  goOrHold,
  lightSpans,
  type SiteDay,
  shiftOn,
} from '../../../weather/src/index.ts';
import { byKey } from '../tables.ts';
import { briefCosts } from './brief-costs.ts';
import { briefDeadline } from './brief-deadline.ts';
import type { BriefInput } from './brief-input.ts';
import { chooseForecast } from './forecast-choice.ts';
import { type MemberDays, memberDays } from './member-days.ts';
import { firstOutsideDay } from './outside-day.ts';

/**
 * Go or hold for the first outside day of a visit: odds of forecast and records, both costs, the last moment to decide, the limits that break,
 * and everything that is not known. Costs with an unknown part are lower bounds: they may carry the advice that they cannot overturn, and no
 * other. Throws `invalid-input` for a visit whose job, site or crew the file does not have.
 */
export function assembleBrief(input: BriefInput): MorningBrief {
  const { file, visit, now, records } = input;
  const job = byKey(file.jobs).get(visit.job);
  const site = byKey(file.sites).get(job?.site ?? '');
  if (!job || !site) throw new DryspellError('invalid-input', { field: 'visit', value: visit.job });
  const outside = firstOutsideDay(file, visit.job, visit.plannedHours);
  const { shift } = outside;
  const day: SiteDay = { date: visit.day, place: site, shift };
  const shiftStart = instantFromMs(shiftOn(visit.day, day).shiftFromMin * 60_000);
  const { forecast, facts } = chooseForecast(input.forecasts, now, site.zone, visit.day);
  const runs = forecast && outside.work ? memberDays(forecast, outside.work, day) : null;
  const odds = oddsOf(input, forecast, runs, facts.leadDays);
  const costs = briefCosts(input);
  const deadline = briefDeadline(file, visit, shiftStart, now);
  const advice = adviceOf(input, { odds, facts, costs, deadline, runs });
  const light = lightOf(site, day);
  const said = odds.known ? odds.value : null;
  return {
    visit: {
      id: visit.id,
      job: visit.job,
      title: job.title,
      site: site.key,
      siteName: site.name,
      zone: site.zone,
      day: visit.day,
      shiftFrom: shift.from,
      shiftTo: shift.to,
      crew: byKey(file.crews).get(visit.crew)?.name ?? visit.crew,
      currency: file.season.currency,
    },
    madeAt: now,
    advice: advice.advice,
    basis: advice.basis,
    reasons: advice.reasons.map((reason) => ({
      code: reason.code,
      ...('because' in reason ? { because: reason.because } : {}),
      ...('minutesPast' in reason ? { minutesPast: reason.minutesPast } : {}),
      ...('ratio' in reason ? { ratio: reason.ratio } : {}),
    })),
    odds: said && {
      goodChance: said.goodChance,
      from: said.from,
      weight: said.weight,
      ...weightOf(input, forecast, facts.leadDays),
      forecastShare: said.forecastShare,
      recordShare: said.recordShare,
      recordYears: records?.years ?? null,
      members: said.members && { ...said.members },
      notes: [...said.notes],
    },
    forecast: facts,
    rule: advice.rule && {
      failChance: advice.rule.failChance,
      holdingCents: advice.rule.holdingCents,
      failedStartCents: advice.rule.failedStartCents,
      ratio: advice.rule.ratio,
    },
    failedStart: sideOf(costs.failedStart),
    holding: sideOf(costs.holding),
    deadline: advice.deadline && {
      at: advice.deadline.at,
      past: advice.deadline.past,
      what: deadline.what,
      feeCents: deadline.pastFeeCents,
    },
    deadlinesUnknown: [...deadline.unknown],
    limits: runs ? [...runs.limits] : [],
    latestStart: runs?.latestStart ?? null,
    sunrise: light.sunrise,
    sunset: light.sunset,
    unknown: [
      ...(outside.work
        ? []
        : ['The template of the job has no outside day, so no weather can be looked at.']),
      ...outside.warnings.map(({ message }) => message),
      ...costs.notes,
      ...light.notes,
      ...gapsOf(forecast),
    ],
  };
}

function oddsOf(
  input: BriefInput,
  forecast: Forecast | null,
  runs: MemberDays | null,
  leadDays: number | null,
): Answer<BlendedOdds, 'no-odds'> {
  const { records, weights } = input;
  const recordShare = records?.shrunkGoodShare ?? null;
  const kind = forecast && forecast.members.length > 1 ? weights.ensemble : weights.single;
  return blendOdds({ leadDays: leadDays ?? 0, members: runs?.counts ?? null, recordShare }, kind);
}

function weightOf({ weights }: BriefInput, forecast: Forecast | null, leadDays: number | null) {
  if (forecast === null || leadDays === null) return { weightBasis: null, weightCases: 0 };
  const kind = forecast.members.length > 1 ? weights.ensemble : weights.single;
  const lead = kind.byLead[leadDays];
  return { weightBasis: lead?.basis ?? null, weightCases: lead?.cases ?? 0 };
}

interface Known {
  readonly odds: Answer<BlendedOdds, 'no-odds'>;
  readonly facts: MorningBrief['forecast'];
  readonly costs: ReturnType<typeof briefCosts>;
  readonly deadline: ReturnType<typeof briefDeadline>;
  readonly runs: MemberDays | null;
}

function adviceOf({ now }: BriefInput, { odds, facts, costs, deadline, runs }: Known): GoOrHoldAdvice {
  const failed = knownCents(costs.failedStart);
  const holding = knownCents(costs.holding);
  const asked: GoOrHoldInput = {
    odds: odds.known ? { known: true, value: odds.value.goodChance } : odds,
    oddsFrom: odds.known ? odds.value.from : 'records',
    forecast: {
      state: facts.state,
      issuedAt: facts.issuedAt as Instant | null,
      ageHours: facts.ageHours,
    },
    costOfFailedStartCents: costs.failedStart.length === 0 ? null : failed.cents,
    costOfHoldingCents: costs.holding.length === 0 ? null : holding.cents,
    decisionDeadline: deadline.at,
    feeAfterDeadlineCents: deadline.pastFeeCents,
    now,
    brokenLimits: (runs?.limits ?? []).map((limit) => ({
      limit: limit.limit,
      limitValue: limit.limitValue ?? 0,
      expectedValue: limit.medianValue,
      firstHour: limit.firstHour as Instant,
      hours: limit.hours,
    })),
  };
  const advice = goOrHold(asked);
  // What is missing can only make a failed start, or holding, dearer than the sum of what is known.
  if (advice.advice === 'go' && !failed.whole) return goOrHold({ ...asked, costOfFailedStartCents: null });
  if (advice.advice === 'hold' && !holding.whole) return goOrHold({ ...asked, costOfHoldingCents: null });
  return advice;
}

function knownCents(parts: readonly BriefCostPart[]): { cents: number; whole: boolean } {
  const known = parts.flatMap(({ cents }) => (cents === null ? [] : [cents]));
  return { cents: known.reduce((sum, each) => sum + each, 0), whole: known.length === parts.length };
}

const sideOf = (parts: readonly BriefCostPart[]): MorningBrief['holding'] => ({
  knownCents: knownCents(parts).cents,
  parts: [...parts],
});

function lightOf(
  place: { readonly lat: number; readonly lon: number },
  day: SiteDay,
): { sunrise: Instant | null; sunset: Instant | null; notes: string[] } {
  const noon = shiftOn(day.date, {
    ...day,
    shift: { ...day.shift, from: '12:00', to: '12:00' },
  }).shiftFromMin;
  const [longest] = lightSpans(place, noon - 720, noon + 720).sort(
    (a, b) => b.toMin - b.fromMin - (a.toMin - a.fromMin),
  );
  if (!longest) return { sunrise: null, sunset: null, notes: ['The sun does not rise on that day.'] };
  if (longest.toMin - longest.fromMin >= 1439)
    return { sunrise: null, sunset: null, notes: ['The sun does not set on that day.'] };
  const at = (minute: number) => instantFromMs(Math.round(minute) * 60_000);
  return { sunrise: at(longest.fromMin), sunset: at(longest.toMin), notes: [] };
}

/** What the runs do not say at all. */
function gapsOf(forecast: Forecast | null): string[] {
  if (forecast === null) return [];
  const none = (
    of: (member: Forecast['members'][number]) => ArrayLike<number>,
    lacks: (value: number) => boolean,
  ) => forecast.members.every((member) => Array.from(of(member)).every(lacks));
  return [
    ...(none(({ gustMps }) => gustMps, Number.isNaN)
      ? ['The forecast has no gusts: they are estimated as the mean wind times 1.4.']
      : []),
    ...(none(
      ({ thunder }) => thunder,
      (heard) => heard < 0,
    )
      ? ['The forecast does not speak of thunder: stop at the first thunder, whatever the odds say.']
      : []),
  ];
}
