// Schedules with shared resources against public instances and small ones solved by hand.
import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { rngFromSeed } from '../../kernel/src/index.ts';
import { searchProject } from './project-search.ts';
import { readPsplib } from './psplib-reader.ts';
import {
  brokenRules,
  criticalPathLength,
  type ResourceProject,
  resourceProject,
} from './resource-project.ts';

/** PSPLIB j301_1 (Kolisch and Sprecher, EJOR 96 (1997), 205-216): length; demand of one resource; successors. Job 1 leads to 2, 3 and 4. */
const J301_1 = `2: 8; R1=4; 6,11,15 · 3: 4; R1=10; 7,8,13 · 4: 6; R4=3; 5,9,10 · 5: 3; R1=3; 20 · 6: 8; R4=8; 30 · 7: 5; R1=4; 27 ·
8: 9; R2=1; 12,19,27 · 9: 2; R1=6; 14 · 10: 7; R4=1; 16,25 · 11: 9; R2=5; 20,26 · 12: 2; R2=7; 14 · 13: 6; R1=4; 17,18 · 14: 3; R2=8; 17 ·
15: 9; R1=3; 25 · 16: 10; R4=5; 21,22 · 17: 6; R4=8; 22 · 18: 5; R4=7; 20,22 · 19: 3; R2=1; 24,29 · 20: 7; R2=10; 23,25 · 21: 2; R4=6; 28 ·
22: 7; R1=2; 23 · 23: 2; R1=3; 24 · 24: 3; R2=9; 30 · 25: 3; R1=4; 30 · 26: 7; R3=4; 31 · 27: 8; R4=7; 28 · 28: 3; R2=8; 31 · 29: 7; R2=7; 32 ·
30: 2; R2=7; 32 · 31: 2; R3=2; 32`;
const CAPACITIES = [12, 13, 4, 12];

function j301(): ResourceProject {
  const durations = new Array<number>(32).fill(0);
  const successors: number[][] = durations.map(() => []);
  const demands: number[][] = durations.map(() => [0, 0, 0, 0]);
  successors[0] = [1, 2, 3];
  for (const each of J301_1.split('·')) {
    const [, job, duration, resource, demand, after] = /(\d+): (\d+); R(\d)=(\d+); ([\d,]+)/.exec(
      each,
    ) as RegExpExecArray;
    const at = Number(job) - 1;
    durations[at] = Number(duration);
    (demands[at] as number[])[Number(resource) - 1] = Number(demand);
    successors[at] = (after as string).split(',').map((number) => Number(number) - 1);
  }
  return resourceProject({ durations, successors, demands, capacities: CAPACITIES });
}

const smText = (project: ResourceProject): string => {
  const rows = [...project.durations].map((duration, at) => {
    const own = [...project.demands.slice(at * 4, at * 4 + 4)].join(' ');
    return `  ${at + 1}      1     ${duration}    ${own}`;
  });
  const orders = project.successors.map(
    (after, at) => `  ${at + 1}  1  ${after.length}  ${[...after].map((each) => each + 1).join(' ')}`,
  );
  const stars = '*'.repeat(40);
  return [
    stars,
    `jobs (incl. supersource/sink ):  ${rows.length}`,
    'horizon : 158',
    'RESOURCES',
    '  - renewable : 4 R',
    '  - nonrenewable : 0 N',
    stars,
    'PRECEDENCE RELATIONS:',
    'jobnr. #modes #successors successors',
    ...orders,
    stars,
    'REQUESTS/DURATIONS:',
    'jobnr. mode duration R 1 R 2 R 3 R 4',
    '-----',
    ...rows,
    stars,
    'RESOURCEAVAILABILITIES:',
    '  R 1  R 2  R 3  R 4',
    `  ${CAPACITIES.join('  ')}`,
    stars,
  ].join('\n');
};

describe('projects with shared resources', () => {
  it('PSPLIB j301_1: chain 38, shortest schedule 43 (optimum file of the library; 42 proved impossible by a mixed-integer program)', () => {
    const project = j301();
    expect(criticalPathLength(project)).toBe(38);
    const found = searchProject(project, { schedules: 20_000, rng: rngFromSeed(1) });
    expect(found.makespan).toBe(43);
    expect(brokenRules(project, found)).toEqual([]);
  });

  it('a small one made up for this: shortest 11 by trying all orders, chain 7', () => {
    // Capacity 4; A 3/2, B 4/3, C 2/2 after A, D 2/1 after A, E 3/2 after B, F 2/3 after C and D (length/demand).
    const project = resourceProject({
      durations: [3, 4, 2, 2, 3, 2],
      successors: [[2, 3], [4], [5], [5], [], []],
      demands: [[2], [3], [2], [1], [2], [3]],
      capacities: [4],
    });
    expect(criticalPathLength(project)).toBe(7);
    const found = searchProject(project, { schedules: 2000, rng: rngFromSeed(3) });
    expect(found.makespan).toBe(11);
    expect(brokenRules(project, found)).toEqual([]);
  });

  it('is the same for the same seed, keeps every rule, and lies between its bound and one after another', () => {
    const anyProject = fc
      .array(
        fc.record({
          duration: fc.integer({ min: 0, max: 9 }),
          demands: fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 3 })),
          after: fc.array(fc.integer({ min: 1, max: 6 }), { maxLength: 3 }),
        }),
        { minLength: 1, maxLength: 25 },
      )
      .map((rows) =>
        resourceProject({
          durations: rows.map(({ duration }) => duration),
          successors: rows.map(({ after }, at) =>
            [...new Set(after.map((step) => at + step))].filter((each) => each < rows.length),
          ),
          demands: rows.map(({ demands }) => demands),
          capacities: [5, 3],
        }),
      );
    fc.assert(
      fc.property(anyProject, fc.integer({ min: 0, max: 1000 }), (project, seed) => {
        const search = () => searchProject(project, { schedules: 300, rng: rngFromSeed(seed) });
        const found = search();
        expect(brokenRules(project, found)).toEqual([]);
        expect(found.makespan).toBeGreaterThanOrEqual(found.lowerBound);
        expect(found.makespan).toBeLessThanOrEqual(project.durations.reduce((sum, each) => sum + each, 0));
        expect(search()).toEqual(found);
      }),
      { numRuns: 60 },
    );
  });

  it('ends when it is told to, with the best so far', () => {
    let asked = 0;
    const found = searchProject(j301(), {
      schedules: 1_000_000,
      rng: rngFromSeed(1),
      stop: () => {
        asked += 1;
        return asked > 3;
      },
    });
    expect(found.schedules).toBeLessThan(1000);
    expect(brokenRules(j301(), found)).toEqual([]);
  });
});

describe('files of projects', () => {
  it('are read as they are written', () => {
    const read = readPsplib(smText(j301()));
    expect(read).toEqual({ ok: true, value: j301() });
  });

  it.each([
    ['a letter', 'Dear all', 1, 'is this a .sm file'],
    ['a file cut short', smText(j301()).split('\n').slice(0, 30).join('\n'), 30, 'ends before'],
    ['a job that is missing', smText(j301()).replace(/^ {2}7 {2}1.*\n/m, ''), 16, 'job 7'],
    ['two modes', smText(j301()).replace('  5  1  ', '  5  2  '), 14, '2 modes'],
  ])('%s is refused with the line', (_, text, line, words) => {
    const read = readPsplib(text);
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.problem.reason).toContain(words);
    expect(read.problem.line).toBe(line);
  });

  it('a demand that no capacity meets and an order in a circle are refused by name', () => {
    expect(() =>
      resourceProject({ durations: [1], successors: [[]], demands: [[3]], capacities: [2] }),
    ).toThrow();
    expect(() =>
      resourceProject({ durations: [1, 1], successors: [[1], [0]], demands: [[1], [1]], capacities: [2] }),
    ).toThrow();
  });
});
