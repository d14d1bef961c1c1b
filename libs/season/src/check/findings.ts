import { toLocalDate } from '../../../kernel/src/index.ts';
import type { Violation } from '../plan.ts';

type Data = Record<string, string | number>;

/** What the rules found, in the order in which they looked. */
export class Findings {
  readonly violations: Violation[] = [];

  add(
    rule: Violation['rule'],
    code: string,
    at: { job?: string; day?: number },
    message: string,
    data: Data = {},
  ): void {
    const day = at.day !== undefined && Number.isSafeInteger(at.day) ? (at.day as Violation['day']) : null;
    this.violations.push({ rule, code, job: at.job ?? null, day, message, data });
  }
}

/** A day as a date; a number that is no day is shown as it is. */
export function dateText(day: number): string {
  try {
    return toLocalDate(day);
  } catch {
    return `day ${String(day)}`;
  }
}

/** "1 day", "2 days"; "1 person", "2 people". */
export function counted(count: number, noun: string, plural = `${noun}s`): string {
  return `${count} ${count === 1 ? noun : plural}`;
}

/** A value of unknown shape, short enough for a message. */
export function shown(value: unknown): string {
  if (typeof value === 'number' || value === undefined) return String(value);
  let text: string;
  try {
    text = JSON.stringify(value) ?? typeof value;
  } catch {
    text = typeof value;
  }
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}
