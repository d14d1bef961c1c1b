import { describe, expect, it } from '@jest/globals';
import {
  brierParts,
  type ReliabilityBin,
  reliabilityPicture,
  reliabilityTable,
  type StatedChance,
} from '../index.ts';

const stated = (chance: number, count: number, events: number): StatedChance[] =>
  Array.from({ length: count }, (_, index) => ({ chance, happened: index < events }));
const cases = [...stated(0.2, 40, 8), ...stated(0.5, 5, 4), ...stated(0.9, 30, 27)];
const picture = reliabilityPicture(reliabilityTable(cases));

/** Attributes of all elements of a kind. */
function elements(svg: string, name: string): Record<string, string>[] {
  return [...svg.matchAll(new RegExp(`<${name}\\b([^>]*)>`, 'g'))].map(([, attributes]) =>
    Object.fromEntries([...(attributes as string).matchAll(/([\w-]+)="([^"]*)"/g)].map(([, k, v]) => [k, v])),
  );
}

describe('the picture of a reliability table', () => {
  it('puts each point at its stated chance and observed share, inside the frame', () => {
    const frame = elements(picture, 'rect').find(({ fill }) => fill === 'none') as Record<string, string>;
    const [left, top, size] = [Number(frame['x']), Number(frame['y']), Number(frame['width'])];
    const points = elements(picture, 'circle').map(({ cx, cy }) => [
      (Number(cx) - left) / size,
      1 - (Number(cy) - top) / size,
    ]);
    expect(points).toEqual([
      [expect.closeTo(0.2, 3), expect.closeTo(0.2, 3)],
      [expect.closeTo(0.5, 3), expect.closeTo(0.8, 3)],
      [expect.closeTo(0.9, 3), expect.closeTo(0.9, 3)],
    ]);
  });

  it('tells few days by a hollow point, not by colour, and writes every count', () => {
    expect(elements(picture, 'circle').map(({ fill }) => fill === '#ffffff')).toEqual([false, true, false]);
    for (const count of ['40', '5', '30']) expect(picture).toContain(`>${count}</text>`);
  });

  it('says the same in words to those who do not see it', () => {
    expect(picture).toMatch(/role="img" aria-labelledby="reliability-title reliability-desc"/);
    expect(picture).toContain('<title id="reliability-title">Did the odds keep their word?</title>');
    // Wilson's interval of 4 in 5: 0.376 to 0.964 (NIST formula, worked by hand).
    expect(picture).toContain('stated: 50 %. Days that were good: 80 % (4 / 5, 38 % - 96 %).');
  });

  it('adds the score when its parts are given', () => {
    const parts = brierParts(cases);
    if (!parts.known) throw new Error('cases were given');
    const scored = reliabilityPicture(reliabilityTable(cases), { parts: parts.value });
    expect(scored).toContain(`Brier score over 75 days: ${parts.value.brier.toFixed(3)} (0 is perfect).`);
    expect(scored).toMatch(/the odds are \d+ % better\./);
    const worse = brierParts([...stated(0.9, 30, 5), ...stated(0.1, 30, 25)]);
    if (!worse.known) throw new Error('cases were given');
    expect(reliabilityPicture([], { parts: worse.value })).toMatch(/the odds are \d+ % worse\./);
  });

  it('is well formed whatever the words, and takes those of another language', () => {
    const svg = reliabilityPicture(reliabilityTable(cases), {
      words: { title: 'Güte <der> "Aussichten" & mehr' },
    });
    expect(svg).toContain('Güte &lt;der&gt; &quot;Aussichten&quot; &amp; mehr');
    const open: string[] = [];
    for (const [, closing, name, selfClosed] of svg.matchAll(/<(\/?)([\w]+)\b[^>]*?(\/?)>/g)) {
      if (closing === '/') expect(open.pop()).toBe(name);
      else if (selfClosed !== '/') open.push(name as string);
    }
    expect(open).toEqual([]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it('says that there is nothing to compare yet', () => {
    const empty = reliabilityPicture([] as ReliabilityBin[]);
    expect(empty).toContain('>No days to compare yet.</text>');
    expect(elements(empty, 'circle')).toEqual([]);
  });
});
