/** The plan's own figures against the recomputed ones. */
import type { CostLine } from '../plan.ts';
import { lineName } from './costs.ts';
import type { Findings } from './findings.ts';
import type { StatedPlan } from './stated-plan.ts';

export function checkCosts(
  plan: StatedPlan,
  own: readonly CostLine[],
  totalCents: number,
  findings: Findings,
): void {
  const stated = new Map<string, number>();
  for (const line of plan.costLines) {
    const name = lineName(line);
    if (stated.has(name)) {
      findings.add(0, 'costLineTwice', at(line), `The plan has more than one cost line "${name}".`, {
        line: name,
      });
    } else stated.set(name, line.cents);
    if (line.cents === 0) {
      findings.add(
        0,
        'costLineZero',
        at(line),
        `The plan's cost line "${name}" is 0 and should be left out.`,
        { line: name },
      );
    }
  }
  const needed = new Map(own.map((line) => [lineName(line), line]));
  for (const [name, line] of needed) {
    const written = stated.get(name);
    if (written === line.cents) continue;
    const message = `Cost line "${name}": the plan has ${written === undefined ? 'none' : `${written} cents`}, it is ${line.cents} cents.`;
    findings.add(0, written === undefined ? 'costLineMissing' : 'costLineWrong', at(line), message, {
      line: name,
      plan: written ?? 'none',
      recomputed: line.cents,
    });
  }
  for (const line of plan.costLines) {
    const name = lineName(line);
    if (needed.has(name) || line.cents === 0) continue;
    const message = `Cost line "${name}": the plan has ${line.cents} cents, nothing of the kind comes out of its visits.`;
    findings.add(0, 'costLineUnfounded', at(line), message, { line: name, plan: line.cents, recomputed: 0 });
  }
  checkTotal(plan, totalCents, findings);
}

function checkTotal(plan: StatedPlan, totalCents: number, findings: Findings): void {
  const sumCents = plan.costLines.reduce((sum, line) => sum + line.cents, 0);
  if (!Number.isNaN(plan.totalCents) && plan.totalCents !== totalCents) {
    const message = `The plan's total is ${plan.totalCents} cents, it is ${totalCents} cents.`;
    findings.add(0, 'totalWrong', {}, message, { plan: plan.totalCents, recomputed: totalCents });
  }
  if (!Number.isNaN(plan.totalCents) && plan.totalCents !== sumCents) {
    const message = `The plan's cost lines add up to ${sumCents} cents, its total is ${plan.totalCents} cents.`;
    findings.add(0, 'totalNotSum', {}, message, { plan: plan.totalCents, sum: sumCents });
  }
  if (plan.boundCents !== null && !(plan.boundCents <= totalCents)) {
    const message = `The stated lower bound of ${plan.boundCents} cents is above the plan's own total of ${totalCents} cents.`;
    findings.add(0, 'boundAboveTotal', {}, message, { bound: plan.boundCents, recomputed: totalCents });
  }
}

function at(line: { readonly job: string | null }): { job?: string } {
  return line.job === null ? {} : { job: line.job };
}
