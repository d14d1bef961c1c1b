// The command `steps`, as people type it. The project is made up: four jobs of three units on a resource of which two fit at a time, so 6 is the shortest.
import fs from 'node:fs';
import { afterAll, describe, expect, it } from '@jest/globals';
import { dryspell, facts, inFolder, removeFolder } from './plan-stage.ts';

const FILE = `****
jobs (incl. supersource/sink ):  6
RESOURCES
  - renewable                 :  1   R
  - nonrenewable              :  0   N
****
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          4           2   3   4   5
   2        1          1           6
   3        1          1           6
   4        1          1           6
   5        1          1           6
   6        1          0
****
REQUESTS/DURATIONS:
jobnr. mode duration  R 1
------------------------
  1      1     0       0
  2      1     3       1
  3      1     3       1
  4      1     3       1
  5      1     3       1
  6      1     0       0
****
RESOURCEAVAILABILITIES:
  R 1
   2
****
`;

afterAll(removeFolder);

describe('steps', () => {
  it('prints the length, the bound and every start', async () => {
    const file = inFolder('four.sm');
    fs.writeFileSync(file, FILE);
    const found = await facts<{ makespan: number; lowerBound: number; proved: boolean; starts: number[] }>(
      'steps',
      file,
      '--schedules',
      '500',
      '--seed',
      '1',
    );
    expect(found).toMatchObject({ code: 0, makespan: 6, lowerBound: 6, proved: true });
    expect([...found.starts.slice(1, 5)].sort()).toEqual([0, 0, 3, 3]);
    expect(found.starts[5]).toBe(6);
    const { out } = await dryspell('steps', file);
    expect(out).toContain('four.sm: 6 activities in 6, which no schedule beats');
  });

  it('refuses what is no project with one line that says where and what next', async () => {
    const cut = inFolder('cut.sm');
    fs.writeFileSync(cut, FILE.slice(0, 300));
    for (const args of [[cut], [inFolder('nowhere.sm')], [cut, '--schedules', '0']]) {
      const { code, out, err } = await dryspell('steps', ...args);
      expect(code).toBeGreaterThan(0);
      expect(out).toBe('');
      expect(err.trim().split('\n')[0]?.length).toBeGreaterThan(20);
    }
    expect((await dryspell('steps', cut)).err).toContain('line 11: the file ends before');
  });
});
