import { describe, expect, it } from '@jest/globals';
import { createLog } from './log.ts';
import { startSteadyLoop } from './steady-loop.ts';

const silent = createLog('silent');
const waitFor = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe('a steady loop', () => {
  it('goes on at once while there is more, then pauses until woken', async () => {
    let turns = 0;
    const loop = startSteadyLoop({
      name: 'test',
      pauseMs: 60_000,
      log: silent,
      work: async () => {
        turns += 1;
        return turns < 5;
      },
    });
    await waitFor(30);
    expect(turns).toBe(5);
    loop.wake();
    await waitFor(30);
    expect(turns).toBe(6);
    await loop.stop();
  });

  it('survives failures, logs a lasting one once, and says when it is over', async () => {
    const lines: string[] = [];
    const log = createLog('info', { write: (line: string) => void lines.push(line) });
    let turns = 0;
    const loop = startSteadyLoop({
      name: 'test',
      pauseMs: 1,
      log,
      work: async () => {
        turns += 1;
        if (turns < 4) throw new Error('no database');
        return false;
      },
    });
    expect(loop.lastWellAt).toBeNull();
    while (turns < 5) await waitFor(5);
    await loop.stop();
    expect(lines.map((line) => JSON.parse(line).msg)).toEqual(['failed; will be tried again', 'works again']);
    expect(loop.lastWellAt).not.toBeNull();
  });

  it('lets the work that is under way end before it is stopped', async () => {
    let ended = false;
    const loop = startSteadyLoop({
      name: 'test',
      pauseMs: 1,
      log: silent,
      work: async () => {
        await waitFor(40);
        ended = true;
        return false;
      },
    });
    await loop.stop();
    expect(ended).toBe(true);
  });
});
