import { describe, expect, it } from '@jest/globals';
import { monthAndDay } from './day-grid.ts';
import { type OddsCalendar, oddsCalendarPicture } from './odds-calendar-picture.ts';
import type { WindowRow } from './window-row.ts';

/** A date with the same odds as all others, save what is said. */
function row(date: number, change: Partial<WindowRow> = {}): WindowRow {
  return {
    date,
    ...monthAndDay(date),
    goodShare: 0.5,
    shrunkGoodShare: 0.5,
    ownWeight: 0.8,
    goodLow: 0.3,
    goodHigh: 0.7,
    knownDays: 150,
    years: 12,
    lostMean: 0.6,
    lostP50: 0,
    lostP80: 1,
    lostP95: 3,
    hopelessShare: 0,
    latestStartMin: 540,
    middleLatestStartMin: 570,
    ...change,
  };
}

const NOTHING = {
  goodShare: null,
  shrunkGoodShare: null,
  knownDays: 0,
  years: 0,
  lostMean: null,
  lostP80: null,
  latestStartMin: null,
};

function pictureOf(
  change: (date: number) => Partial<WindowRow> = () => ({}),
  other: Partial<OddsCalendar> = {},
) {
  return oddsCalendarPicture({
    rows: Array.from({ length: 366 }, (_, date) => row(date, change(date))),
    title: 'Wren dome at Gull Point',
    subtitle: '12 years of hours',
    goodDay: 'dry and calm.',
    statements: ['Thunder is not recorded.'],
    source: 'gull-point.epw',
    mostLostDays: 60,
    startBy: ({ latestStartMin }) => (latestStartMin === null ? null : '09:00'),
    ...other,
  });
}

const texts = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, content]) => content as string);
const fills = (svg: string): string[] =>
  [...svg.matchAll(/<rect x="[^>]* fill="([^"]+)"[^>]*><title>/g)].map(([, fill]) => fill as string);
const luminance = (tone: string): number => {
  const parts = [1, 3, 5].map((at) => Number.parseInt(tone.slice(at, at + 2), 16) / 255);
  const [r, g, b] = parts.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)) as [
    number,
    number,
    number,
  ];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};

describe('an odds calendar', () => {
  it('is one well-formed document with a name and a description in words', () => {
    const svg = pictureOf();
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" viewBox="0 0 1200 \d+"/);
    expect(svg).toMatch(/role="img" aria-labelledby="odds-title odds-desc"/);
    expect(svg).toContain('<title id="odds-title">Wren dome at Gull Point</title>');
    expect(svg).toMatch(
      /<desc id="odds-desc">A good day: dry and calm\. January: 16 good days of 31, hold back 1 day\./,
    );
    const open: string[] = [];
    for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-z]+)[^>]*?(\/?)>/g)) {
      if (close) expect(open.pop()).toBe(name);
      else if (!self) open.push(name as string);
    }
    expect(open).toEqual([]);
  });

  it('tells a share by figure, height and tone, the darker the more good days', () => {
    const shares = [0.05, 0.25, 0.45, 0.65, 0.95];
    const svg = pictureOf((date) => (date < 5 ? { shrunkGoodShare: shares[date] ?? 0 } : {}));
    for (const figure of ['5', '25', '45', '65', '95']) expect(texts(svg)).toContain(figure);
    const heights = [...svg.matchAll(/height="([\d.]+)" fill="[^"]+"[^>]*><title>/g)].map(([, tall]) =>
      Number(tall),
    );
    expect(heights.slice(0, 5)).toEqual([1.3, 6.3, 11.3, 16.3, 23.8]);
    const light = fills(svg).slice(0, 5).map(luminance);
    expect(light).toEqual([...light].sort((a, b) => b - a));
    // Neighbours can be told apart in grey: WCAG 2.2 contrast of at least 1.3 to 1, and 3 to 1 from end to end (1.4.11).
    const contrast = (a: number, b: number): number => (a + 0.05) / (b + 0.05);
    for (let at = 1; at < 5; at += 1)
      expect(contrast(light[at - 1] as number, light[at] as number)).toBeGreaterThan(1.3);
    expect(contrast(light[0] as number, light[4] as number)).toBeGreaterThan(3);
  });

  it('never disagrees between figure and tone', () => {
    const svg = pictureOf((date) =>
      date === 0 ? { shrunkGoodShare: 0.396 } : date === 1 ? { shrunkGoodShare: 0.4 } : {},
    );
    const [first, second] = fills(svg);
    expect(first).toBe(second);
  });

  it('writes letters that can be read on white', () => {
    const colours = new Set(
      [...pictureOf().matchAll(/<text[^>]*fill="(#[0-9a-f]{6})"/g)].map(([, colour]) => colour),
    );
    // WCAG 2.2, 1.4.3: at least 4.5 to 1.
    for (const colour of [...colours, '#16242a'])
      expect(1.05 / (luminance(colour as string) + 0.05)).toBeGreaterThan(4.5);
  });

  it('hatches dates of which nothing is known, and gives them no figure', () => {
    const svg = pictureOf((date) => (date < 31 ? NOTHING : {}));
    expect(fills(svg).filter((fill) => fill === 'url(#odds-unknown)')).toHaveLength(31);
    expect(svg).toContain('<title>1 January: not known</title>');
    expect(svg).toContain('January: not known.');
    // What is known of the month alone is not drawn as if it were known of the date.
    expect(pictureOf((date) => (date === 0 ? { knownDays: 0 } : {}))).toContain(
      '<title>1 January: not known',
    );
    expect(texts(svg)).toContain('-');
  });

  it('sums up each month: good days, lost days, days to hold back, start', () => {
    const svg = pictureOf((date) =>
      date < 31
        ? { shrunkGoodShare: 0.2, lostMean: 2.44, lostP80: date === 9 ? 5 : 4 }
        : { shrunkGoodShare: 0.9 },
    );
    expect(texts(svg)).toEqual(expect.arrayContaining(['6 of 31', '2.4', '5 days', '09:00', '25 of 28']));
    expect(texts(svg)).toContain('Most good days: February (25 of 28 days). Fewest: January (6 of 31 days).');
    expect(texts(pictureOf(() => ({}), { startBy: null }))).not.toContain('start by');
    expect(texts(pictureOf(() => ({ lostP80: 60 })))).toContain('60+ days');
  });

  it('cautions, names its source, and takes texts as text', () => {
    const svg = pictureOf(() => ({}), {
      title: 'Wren <b>&"dome"</b>\u0001',
      statements: [`Thunder & more ${'very '.repeat(60)}long.`],
      source: 'a<b>.epw',
    });
    expect(svg).toContain('Wren &lt;b&gt;&amp;&quot;dome&quot;&lt;/b&gt; ');
    expect(svg).not.toContain('<b>');
    expect(
      texts(svg).some((text) => text.startsWith('Planning aid from past weather, not a permission')),
    ).toBe(true);
    expect(texts(svg)).toContain('Source: a&lt;b&gt;.epw');
    expect(Math.max(...texts(svg).map(({ length }) => length))).toBeLessThan(180);
  });
});
