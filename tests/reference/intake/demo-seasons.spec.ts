import fs from 'node:fs';
import { describe, expect, it } from '@jest/globals';
import { validateSeasonFile } from '../../../libs/contracts/src/index.ts';
import { buildSeasonProblem, checkSeasonFile } from '../../../libs/intake/src/index.ts';

const folder = new URL('../../../prisma/demo/', import.meta.url);
const names = fs.readdirSync(folder).filter((name) => name.endsWith('.json'));

describe('every demo season', () => {
  it('is there', () => {
    expect(names.length).toBeGreaterThan(0);
  });

  it.each(names)('%s has no faults and becomes a problem that is whole', (name) => {
    const result = validateSeasonFile(JSON.parse(fs.readFileSync(new URL(name, folder), 'utf8')));
    if (!result.ok) throw new Error(JSON.stringify(result.faults.slice(0, 5)));
    expect(checkSeasonFile(result.value)).toEqual([]);
    const { problem, warnings } = buildSeasonProblem(result.value);
    const days = problem.lastDay - problem.firstDay + 1;
    const masks = [
      ...problem.crews.flatMap((crew) => [crew.works, ...crew.members.map((member) => member.belongs)]),
      ...problem.hands.map((hand) => hand.available),
      ...problem.lifts.map((lift) => lift.available),
    ];
    expect(masks.every((mask) => mask.length === days && /^[01]+$/.test(mask))).toBe(true);
    const places = new Set(problem.travel.places);
    const named = [
      ...problem.jobs.map((job) => job.site),
      ...problem.crews.map((crew) => crew.base),
      ...problem.lifts.map((lift) => lift.depot),
      ...problem.casualHands.map((hand) => hand.home),
    ];
    expect(named.filter((place) => !places.has(place))).toEqual([]);
    for (const job of problem.jobs) {
      expect(job.pattern.length).toBeGreaterThan(0);
      if (job.weatherTable) expect(problem.weatherTables[job.weatherTable]?.reserveDays).toHaveLength(days);
      expect(Boolean(job.weatherTable)).toBe(job.pattern.some((day) => day.outside));
    }
    expect(
      warnings.filter((each) => each.code === 'zone-not-at-place' || each.code === 'container-number'),
    ).toEqual([]);
  });
});
