import { type PlanFile, toPlanFile } from '../../../../libs/contracts/src/index.ts';
import { toLocalDate } from '../../../../libs/kernel/src/index.ts';
import type { Binding, PlanOutcome, SeasonPlan } from '../../../../libs/season/src/index.ts';
import type { CommandAnswer } from '../commands/command.ts';
import type { NamedSeason } from '../season-input/season-problem.ts';
import { readingLines } from '../season-input/weather-months.ts';
import { PLAN_CAUTION, planLines, refusedLines } from './plan-lines.ts';
import type { Planned } from './search-plan.ts';
import { warningLines } from './warning-lines.ts';

/** What the plan command answers when there is a plan. */
export interface PlannedAnswer extends CommandAnswer {
  readonly facts: { readonly plan: PlanFile; readonly [fact: string]: unknown };
}

/** The plan with everything that it rests on, for programs and for people. */
export function plannedAnswer(
  season: NamedSeason,
  plan: SeasonPlan,
  made: Planned & { readonly out: string | null },
): PlannedAnswer {
  const { problem, file, warnings, weather, todayTaken } = season;
  const { out, firstComeCents, stoppedEarly } = made;
  const planFile = toPlanFile(plan, problem);
  const count = `${plan.visits.length} of ${problem.jobs.length} jobs planned${stoppedEarly ? ', stopped early' : ''}`;
  return {
    facts: {
      outcome: 'plan',
      file: out,
      stoppedEarly,
      todayTaken,
      firstComeCents,
      warnings,
      weather,
      plan: planFile,
    },
    lines: [
      ...weather.flatMap(readingLines),
      ...warningLines(warnings),
      '',
      `${problem.name}: ${count}`,
      '',
      ...planLines(file, problem, plan, firstComeCents),
      '',
      `seed ${plan.made.seed}, ${plan.made.iterations} tries; the independent check finds nothing wrong`,
      out === null ? 'not written; --out names a file for it' : `written to ${out}`,
      ...(todayTaken === null
        ? []
        : [
            `the season does not say from which day it is looked at; today was taken (--today ${todayTaken} repeats it)`,
          ]),
      ...PLAN_CAUTION,
    ],
  };
}

/** What clashes, for programs and for people. */
export function refusedAnswer(
  season: NamedSeason,
  outcome: Extract<PlanOutcome, { kind: 'refused' }>,
  exitCode: number,
): CommandAnswer {
  const { problem, warnings, weather, todayTaken } = season;
  return {
    exitCode,
    facts: {
      outcome: 'refused',
      clashes: outcome.clashes.map(({ jobs, bindings }) => ({ jobs, bindings: bindings.map(dated) })),
      todayTaken,
      warnings,
      weather,
    },
    lines: [...weather.flatMap(readingLines), ...refusedLines(problem, outcome)],
  };
}

function dated({ kind, data }: Binding): Binding {
  const { day } = data;
  return { kind, data: typeof day === 'number' ? { ...data, day: toLocalDate(day) } : data };
}
