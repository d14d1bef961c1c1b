import type { PlanFileSource } from '../../../../libs/contracts/src/index.ts';
import { formatCents, toLocalDate } from '../../../../libs/kernel/src/index.ts';
import { type CheckResult, type CostKind, checkPlan } from '../../../../libs/season/src/index.ts';
import type { CommandAnswer } from '../commands/command.ts';
import type { NamedSeason } from '../season-input/season-problem.ts';
import { readingLines } from '../season-input/weather-months.ts';
import { namesOf } from './binding-sentences.ts';
import { PLAN_CAUTION, sumsByKind } from './plan-lines.ts';
import { COST_WORDS } from './plan-words.ts';
import { textTable } from './text-table.ts';

/** Holds a plan against its season: each broken rule with job, day and numbers, and the costs beside those of the plan. */
export function checkAnswer(
  season: NamedSeason,
  plan: PlanFileSource,
  exitIfNotValid: number,
): CommandAnswer {
  const result = checkPlan(season.problem, plan);
  return {
    exitCode: result.valid ? 0 : exitIfNotValid,
    facts: {
      outcome: result.valid ? 'valid' : 'not-valid',
      violations: result.violations.map(({ day, ...violation }) => ({ ...violation, day: dateOf(day) })),
      workedOut: { totalCents: result.totalCents, costLines: result.costLines },
      inPlan: { totalCents: plan.totalCents, costLines: plan.costLines },
      todayTaken: season.todayTaken,
      warnings: season.warnings,
      weather: season.weather,
    },
    lines: answerLines(season, plan, result),
  };
}

function answerLines(season: NamedSeason, plan: PlanFileSource, result: CheckResult): string[] {
  const { problem, todayTaken, weather } = season;
  const names = namesOf(problem);
  const count = result.violations.length;
  const lines = weather.flatMap(readingLines);
  lines.push(
    result.valid
      ? `valid: ${plan.visits.length} visits of ${problem.jobs.length} jobs keep every rule, and every cost line agrees`
      : `not valid: ${count} ${count === 1 ? 'breach' : 'breaches'}`,
  );
  for (const { rule, job, day, message } of result.violations) {
    const place = [job === null ? null : `${names.job(job)} [${job}]`, dateOf(day)]
      .filter(Boolean)
      .join(', ');
    lines.push(`  rule ${rule}${place === '' ? '' : `, ${place}`}: ${message}`);
  }
  lines.push('', ...costTable(problem.currency, plan, result));
  if (todayTaken !== null) {
    lines.push(
      '',
      `the season does not say from which day it is looked at; today (${todayTaken}) was taken. A plan made on another day needs --today with that day.`,
    );
  }
  return [...lines, '', ...PLAN_CAUTION];
}

function dateOf(day: number | null): string | null {
  return day === null ? null : toLocalDate(day);
}

function costTable(currency: string, plan: PlanFileSource, result: CheckResult): string[] {
  const money = (cents: number): string => formatCents(cents, currency);
  const [own, stated] = [sumsByKind(result.costLines), sumsByKind(plan.costLines)];
  const row = (name: string, worked: number, inPlan: number): string[] => [
    name,
    money(worked),
    money(inPlan),
    worked === inPlan ? '' : money(inPlan - worked),
  ];
  const kinds = (Object.keys(COST_WORDS) as CostKind[]).filter((kind) => own.has(kind) || stated.has(kind));
  return textTable(
    [
      ['cost', 'worked out again', 'in the plan', 'difference'],
      ...kinds.map((kind) => row(COST_WORDS[kind], own.get(kind) ?? 0, stated.get(kind) ?? 0)),
      row('total', result.totalCents, plan.totalCents),
    ],
    [1, 2, 3],
  );
}
