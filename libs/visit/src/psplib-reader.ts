import { type ResourceProject, resourceProject } from './resource-project.ts';

/** A file that is no single-mode project, with the line (from 1) and what was expected there. */
export interface PsplibFault {
  readonly line: number;
  readonly reason: string;
}

/** The project of a file, or why there is none. */
export type PsplibResult =
  | { readonly ok: true; readonly value: ResourceProject }
  | { readonly ok: false; readonly problem: PsplibFault };

/**
 * Reads the public PSPLIB single-mode format (.sm; Kolisch and Sprecher, EJOR 96 (1997), 205-216): blocks between lines of stars, the jobs numbered from 1
 * with a source and a sink of no length. Several modes, resources that are used up, and files that are cut short are refused with the line.
 */
export function readPsplib(text: string): PsplibResult {
  const lines = text.split(/\r\n|\n|\r/);
  const fault = (line: number, reason: string): PsplibResult => ({
    ok: false,
    problem: { line: line + 1, reason },
  });
  const startOf = (title: RegExp): number => lines.findIndex((line) => title.test(line));
  const numbersOf = (line: number): number[] =>
    (lines[line] ?? '')
      .trim()
      .split(/\s+/)
      .filter((word) => /^\d+$/.test(word))
      .map(Number);
  const numberAfter = (title: RegExp): number =>
    Number(/:\s*(\d+)/.exec(lines[startOf(title)] ?? '')?.[1] ?? Number.NaN);
  const jobs = numberAfter(/^\s*jobs\b.*:/i);
  const resources = numberAfter(/^\s*-\s*renewable/i);
  if (!Number.isInteger(jobs) || jobs < 2)
    return fault(0, 'no line "jobs (incl. supersource/sink )" with a number: is this a .sm file?');
  if (!Number.isInteger(resources) || resources < 1)
    return fault(startOf(/RESOURCES/), 'no number of renewable resources');
  if (numberAfter(/^\s*-\s*nonrenewable/i) > 0)
    return fault(startOf(/nonrenewable/i), 'resources that are used up are not read');
  const [orders, requests, rooms] = [
    startOf(/^PRECEDENCE RELATIONS/i),
    startOf(/^REQUESTS\/DURATIONS/i),
    startOf(/^RESOURCEAVAILABILITIES/i),
  ];
  if (orders < 0 || requests < 0 || rooms < 0)
    return fault(lines.length - 1, 'the file ends before its orders, requests and availabilities');
  const successors: number[][] = [];
  const durations: number[] = [];
  const demands: number[][] = [];
  for (let job = 0; job < jobs; job += 1) {
    const orderLine = orders + 2 + job;
    const [number, modes, count = -1, ...after] = numbersOf(orderLine);
    if (number !== job + 1) return fault(orderLine, `the order of job ${job + 1} is expected here`);
    if (modes !== 1) return fault(orderLine, `job ${job + 1} has ${modes} modes; one is read`);
    if (after.length !== count)
      return fault(orderLine, `job ${job + 1} says ${count} successors and names ${after.length}`);
    successors.push(after.map((each) => each - 1));
    const requestLine = requests + 3 + job;
    const [named, mode, duration, ...needs] = numbersOf(requestLine);
    if (named !== job + 1 || mode !== 1 || duration === undefined || needs.length !== resources)
      return fault(
        requestLine,
        `job ${job + 1}, its mode 1, its length and ${resources} demands are expected here`,
      );
    durations.push(duration);
    demands.push(needs);
  }
  const capacities = numbersOf(rooms + 2);
  if (capacities.length !== resources) return fault(rooms + 2, `${resources} capacities are expected here`);
  return { ok: true, value: resourceProject({ durations, successors, demands, capacities }) };
}
