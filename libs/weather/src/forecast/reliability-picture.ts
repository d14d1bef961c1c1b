import type { BrierParts, ReliabilityBin } from './verification.ts';

/** Words of a reliability picture, in the language of its reader. */
export interface ReliabilityWords {
  readonly title: string;
  /** What the lower axis shows. */
  readonly stated: string;
  /** What the left axis shows. */
  readonly observed: string;
  readonly above: string;
  readonly below: string;
  readonly diagonal: string;
  readonly bars: string;
  readonly few: string;
  readonly counts: string;
  readonly empty: string;
  /** The lines beneath, when the parts of the Brier score are given. */
  readonly score: (parts: BrierParts) => readonly string[];
}

const WORDS: ReliabilityWords = {
  title: 'Did the odds keep their word?',
  stated: 'Odds of a good day that were stated',
  observed: 'Days that were good',
  above: 'good more often than stated',
  below: 'good less often than stated',
  diagonal: 'as stated',
  bars: 'Upright lines: where the true share lies, 95 times in 100.',
  few: 'Hollow points: fewer than 10 days, so little weight.',
  counts: 'Days behind each point',
  empty: 'No days to compare yet.',
  score: ({ cases, brier, uncertainty, skill }) => [
    `Brier score over ${cases} days: ${brier.toFixed(3)} (0 is perfect).`,
    `Always stating the mean share would score ${uncertainty.toFixed(3)}${
      skill === null ? '.' : `: the odds are ${percent(Math.abs(skill))} ${skill < 0 ? 'worse' : 'better'}.`
    }`,
  ],
};

const FEW = 10;
const WIDTH = 640;
const HEIGHT = 770;
const EDGE = 18;
const PLOT = { left: 92, top: 96, size: 460 } as const;
const STRIP = { top: 652, height: 52 } as const;
const INK = '#1a1a1a';
const SOFT = '#5a5a5a';

/**
 * A reliability table as a picture: an SVG document of 640 by 770, readable without colour, with a title and a description in
 * words for those who do not see it. Points are at the mean stated chance and the observed share of each bin, with Wilson's
 * interval; beneath, how many days stand behind each. `parts` adds the Brier score as a line of text. Words are English
 * unless given.
 */
export function reliabilityPicture(
  table: readonly ReliabilityBin[],
  options: { readonly parts?: BrierParts; readonly words?: Partial<ReliabilityWords> } = {},
): string {
  const words = { ...WORDS, ...options.words };
  const filled = table.flatMap((bin) =>
    bin.meanChance === null || bin.observedShare === null
      ? []
      : [{ ...bin, meanChance: bin.meanChance, observedShare: bin.observedShare }],
  );
  const score = options.parts === undefined ? [] : words.score(options.parts);
  const description = [
    filled.length === 0 ? words.empty : '',
    ...filled.map(
      ({ meanChance, happened, count, observedShare, interval }) =>
        `${words.stated}: ${percent(meanChance)}. ${words.observed}: ${percent(observedShare)} (${happened} / ${count}, ${percent(interval.low)} - ${percent(interval.high)}).`,
    ),
    ...score,
  ].filter((line) => line !== '');
  const most = Math.max(1, ...filled.map(({ count }) => count));
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-labelledby="reliability-title reliability-desc" font-family="system-ui, 'Helvetica Neue', Arial, sans-serif" font-size="15" fill="${INK}">`,
    `<title id="reliability-title">${escaped(words.title)}</title>`,
    `<desc id="reliability-desc">${escaped(description.join(' '))}</desc>`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#ffffff"/>`,
    text(PLOT.left, 36, words.title, 'font-size="22" font-weight="600"'),
    text(PLOT.left, 62, words.bars, `fill="${SOFT}"`),
    text(PLOT.left, 82, words.few, `fill="${SOFT}"`),
    ...axes(words),
    ...filled.flatMap((bin) => point(bin)),
    ...(filled.length === 0
      ? [text(atX(0.72), atY(0.4), words.empty, 'text-anchor="middle" font-weight="600"')]
      : []),
    ...strip(filled, most, words.counts),
    ...score.map((line, nth) => text(EDGE, STRIP.top + STRIP.height + 32 + 22 * nth, line, '')),
    '</svg>',
    '',
  ].join('\n');
}

function axes(words: ReliabilityWords): string[] {
  const { left, top, size } = PLOT;
  const bottom = top + size;
  const lines: string[] = [];
  for (let step = 0; step <= 100; step += 10) {
    const [x, y] = [atX(step / 100), atY(step / 100)];
    lines.push(`<path d="M${left} ${y}H${left + size}M${x} ${top}V${bottom}" stroke="#e2e2e2" fill="none"/>`);
    if (step % 20 !== 0) continue;
    lines.push(text(left - 10, y + 5, `${step} %`, 'text-anchor="end"'));
    lines.push(text(x, bottom + 22, `${step} %`, 'text-anchor="middle"'));
  }
  return [
    ...lines,
    `<rect x="${left}" y="${top}" width="${size}" height="${size}" fill="none" stroke="${INK}"/>`,
    `<path d="M${atX(0)} ${atY(0)}L${atX(1)} ${atY(1)}" stroke="${SOFT}" stroke-width="1.5" stroke-dasharray="7 5" fill="none"/>`,
    `<g transform="translate(${atX(0.88) - 8} ${atY(0.88) - 8}) rotate(-45)">${text(0, 0, words.diagonal, `text-anchor="middle" fill="${SOFT}"`)}</g>`,
    text(atX(0.02), atY(0.95), words.above, `fill="${SOFT}" font-style="italic"`),
    text(atX(0.98), atY(0.03), words.below, `fill="${SOFT}" font-style="italic" text-anchor="end"`),
    text(left + size / 2, bottom + 46, words.stated, 'text-anchor="middle" font-weight="600"'),
    `<g transform="translate(24 ${top + size / 2}) rotate(-90)">${text(0, 0, words.observed, 'text-anchor="middle" font-weight="600"')}</g>`,
  ];
}

function point(bin: ReliabilityBin & { meanChance: number; observedShare: number }): string[] {
  const [x, y] = [atX(bin.meanChance), atY(bin.observedShare)];
  const [low, high] = [atY(bin.interval.low), atY(bin.interval.high)];
  return [
    `<path d="M${x} ${low}V${high}M${round(x - 5)} ${low}h10M${round(x - 5)} ${high}h10" stroke="${INK}" stroke-width="1.5" fill="none"/>`,
    `<circle cx="${x}" cy="${y}" r="6.5" stroke="${INK}" stroke-width="2" fill="${bin.count < FEW ? '#ffffff' : INK}"/>`,
  ];
}

/** Bars of how many cases stand behind each point, each with its number. */
function strip(
  filled: readonly (ReliabilityBin & { meanChance: number })[],
  most: number,
  label: string,
): string[] {
  const bottom = STRIP.top + STRIP.height;
  return [
    text(EDGE, STRIP.top - 12, label, 'font-weight="600"'),
    `<path d="M${PLOT.left} ${bottom}H${PLOT.left + PLOT.size}" stroke="${INK}" fill="none"/>`,
    ...filled.flatMap(({ count, fromChance, toChance }) => {
      const height = round((count / most) * (STRIP.height - 18));
      const middle = atX((fromChance + toChance) / 2);
      const width = round((toChance - fromChance) * PLOT.size * 0.6);
      return [
        `<rect x="${round(middle - width / 2)}" y="${round(bottom - height)}" width="${width}" height="${height}" fill="#9a9a9a"/>`,
        text(middle, round(bottom - height - 5), String(count), 'text-anchor="middle" font-size="13"'),
      ];
    }),
  ];
}

function atX(chance: number): number {
  return round(PLOT.left + chance * PLOT.size);
}

function atY(share: number): number {
  return round(PLOT.top + (1 - share) * PLOT.size);
}

function round(length: number): number {
  return Math.round(length * 10) / 10;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

function text(x: number, y: number, content: string, attributes: string): string {
  return `<text x="${x}" y="${y}"${attributes === '' ? '' : ` ${attributes}`}>${escaped(content)}</text>`;
}

const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

function escaped(content: string): string {
  return content.replace(/[&<>"]/g, (character) => ESCAPES[character] as string);
}
