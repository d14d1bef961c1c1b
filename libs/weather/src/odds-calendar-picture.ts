import { daysInMonth } from './record-clock.ts';
import { escaped, textAt, wrapped } from './svg-text.ts';
import type { WindowRow } from './window-row.ts';

/** What an odds calendar shows. All texts are plain text. */
export interface OddsCalendar {
  /** The 366 dates of a year, in order. */
  readonly rows: readonly WindowRow[];
  /** What is built where. */
  readonly title: string;
  /** Which record, of which years. */
  readonly subtitle: string;
  /** One sentence: what makes a day good. */
  readonly goodDay: string;
  /** What the odds rest on and what they leave out. */
  readonly statements: readonly string[];
  /** Where the figures come from. */
  readonly source: string;
  /** Clock time on site of a date's latest start; null leaves the column out. */
  readonly startBy: ((row: WindowRow) => string | null) | null;
  /** Up to how many lost days were counted: that many means that many or more; default 60. */
  readonly mostLostDays?: number;
}

const WIDTH = 1200;
const EDGE = 26;
const LABEL = 46;
const CELL = 25.6;
/** A little room after each ten days, so that a date is found without counting. */
const GAP = 5;
const BAR = 25;
const BAND = 41;
const SUMS = EDGE + LABEL + 31 * CELL + 2 * GAP + 4;
const CAUTION =
  'Planning aid from past weather, not a permission to work. On the day, measured wind, the maker’s limits and the competent person decide.';
const INK = '#16242a';
const SOFT = '#46565d';
const FRAME = '#6b7b82';
const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');
const FULL_MONTHS =
  'January February March April May June July August September October November December'.split(' ');

/** Shares from this on, in words, and the tone of their bars: the darker, the more good days. */
const STEPS = [
  { from: 0, words: 'hardly ever', tone: '#e4ddc9' },
  { from: 0.2, words: 'seldom', tone: '#bfc3a4' },
  { from: 0.4, words: 'every second day', tone: '#86a487' },
  { from: 0.6, words: 'more often than not', tone: '#467a6b' },
  { from: 0.8, words: 'nearly always', tone: '#123f46' },
] as const;

const HOW_TO_READ = [
  'The figure over a date is the chance, in %, that the work can be closed on it: from that date, a week to either side, and its month, in all years.',
  'Days lost: what weather adds to a visit that begins in the month. Hold back: days to keep free behind it, so that 4 of 5 visits are done (worst date).',
  'Start by: the latest start that still closes 4 of 5 good days (earliest of the month).',
];

/**
 * The odds of a year as a picture: an SVG document 1200 wide, for screen and A4 across. One band a month, one column a date; the height and the tone
 * of a bar and the figure above it all tell the share of good days (`shrunkGoodShare`), so it reads without colour. Beside each month: good days
 * to expect, lost days, days to hold back for 4 of 5 visits, and by when to start. Dates of which nothing is known, nor of the week to either side, are hatched.
 */
export function oddsCalendarPicture(calendar: OddsCalendar): string {
  const { rows, title, subtitle, goodDay, statements, source, startBy } = calendar;
  const good = wrapped(`A good day: ${goodDay}`, 160);
  const short = inShort(rows);
  const from = wrapped(subtitle, 160);
  const goodTop = 66 + from.length * 18;
  const top = goodTop + 20 + (good.length + (short === null ? 0 : 1)) * 18;
  const bottom = top + 12 * BAND + 22;
  const notes = columnsOf([...statements.map((words) => `• ${words}`), `Source: ${source}`]);
  const noteTop = bottom + 118;
  const height = Math.ceil(noteTop + notes.lines * 15 + 30);
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" width="${WIDTH}" height="${height}" role="img" aria-labelledby="odds-title odds-desc" font-family="Helvetica, Arial, 'Liberation Sans', sans-serif" fill="${INK}">`,
    `<title id="odds-title">${escaped(title)}</title>`,
    `<desc id="odds-desc">${escaped(description(calendar))}</desc>`,
    '<defs><pattern id="odds-unknown" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">' +
      `<rect width="6" height="6" fill="#fff"/><line x1="0" y1="0" x2="0" y2="6" stroke="${FRAME}" stroke-width="1.6"/></pattern></defs>`,
    `<rect width="${WIDTH}" height="${height}" fill="#fff"/>`,
    textAt(EDGE, 40, title, `font-size="${titleSize(title)}" font-weight="bold"`),
    ...from.map((line, at) => textAt(EDGE, 62 + at * 18, line, `font-size="14" fill="${SOFT}"`)),
    ...good.map((line, at) => textAt(EDGE, goodTop + at * 18, line, 'font-size="14"')),
    ...(short === null
      ? []
      : [textAt(EDGE, goodTop + good.length * 18, short, 'font-size="14" font-weight="bold"')]),
    ...heads(top, startBy !== null),
    ...FULL_MONTHS.flatMap((_, month) => band(calendar, month, top + month * BAND)),
    ...dayNumbers(bottom - 8),
    ...legend(bottom + 10, startBy !== null),
    `<line x1="${EDGE}" y1="${noteTop - 18}" x2="${WIDTH - EDGE}" y2="${noteTop - 18}" stroke="${FRAME}"/>`,
    textAt(EDGE, noteTop, CAUTION, 'font-size="13" font-weight="bold"'),
    ...notes.placed.map(({ x, line, text }) => textAt(x, noteTop + 20 + line * 15, text, 'font-size="12"')),
    '</svg>',
  ];
  return `${parts.join('\n')}\n`;
}

function heads(top: number, withStart: boolean): string[] {
  const small = `font-size="11" fill="${SOFT}" text-anchor="end"`;
  return [
    ...dayNumbers(top - 6),
    ...columns(withStart).flatMap(({ head, x }) =>
      head.map((line, at) => textAt(x, top - 6 - (head.length - 1 - at) * 12, line, small)),
    ),
  ];
}

function dayNumbers(y: number): string[] {
  return Array.from({ length: 31 }, (_, day) =>
    textAt(middleOf(day), y, String(day + 1), `font-size="11" fill="${SOFT}" text-anchor="middle"`),
  );
}

/** Left edge of a date's column; `day` counts from 0. */
function leftOf(day: number): number {
  return Number((EDGE + LABEL + day * CELL + (day >= 20 ? 2 : day >= 10 ? 1 : 0) * GAP).toFixed(1));
}
const middleOf = (day: number): number => Number((leftOf(day) + CELL / 2).toFixed(1));

function columns(withStart: boolean): { readonly head: readonly string[]; readonly x: number }[] {
  const heads = [
    ['good days', 'to expect'],
    ['days lost', '(mean)'],
    ['hold back', '(4 of 5)'],
    ...(withStart ? [['start by', '(on site)']] : []),
  ];
  const wide = (WIDTH - EDGE - SUMS) / 4;
  return heads.map((head, at) => ({ head, x: Math.round(SUMS + (at + 1) * wide) }));
}

function band({ rows, startBy, mostLostDays = 60 }: OddsCalendar, month: number, y: number): string[] {
  const own = rows.filter((row) => row.month === month + 1);
  const floor = y + BAND - 5;
  const cells = own.flatMap((row) => cell(row, floor));
  const sums = sumsOf(own);
  const texts = [
    sums.good === null ? '-' : `${Math.round(sums.good)} of ${sums.days}`,
    sums.lostMean === null ? '-' : sums.lostMean.toFixed(1),
    sums.holdBack === null ? '-' : dayWords(sums.holdBack, mostLostDays),
    ...(startBy ? [earliest(own.map(startBy)) ?? '-'] : []),
  ];
  const strong = 'font-size="14" text-anchor="end"';
  return [
    textAt(EDGE, floor - 8, MONTHS[month] as string, 'font-size="17" font-weight="bold"'),
    ...cells,
    `<line x1="${EDGE + LABEL}" y1="${floor}" x2="${leftOf(own.length - 1) + CELL}" y2="${floor}" stroke="${FRAME}"/>`,
    ...columns(startBy !== null).map(({ x }, at) => textAt(x, floor - 8, texts[at] as string, strong)),
  ];
}

function cell(row: WindowRow, floor: number): string[] {
  const x = leftOf(row.dayOfMonth - 1) + 1;
  const width = CELL - 2;
  const name = `${row.dayOfMonth} ${FULL_MONTHS[row.month - 1]}`;
  const share = row.shrunkGoodShare;
  if (share === null || row.knownDays === 0)
    return [
      `<rect x="${x}" y="${floor - BAR}" width="${width.toFixed(1)}" height="${BAR}" fill="url(#odds-unknown)"><title>${name}: not known</title></rect>`,
    ];
  const tall = Math.max(1, share * BAR);
  const years = row.years === 1 ? '1 year' : `${row.years} years`;
  const lost = row.lostMean === null ? '' : `; ${row.lostMean.toFixed(1)} days lost on average`;
  const told = `${name}: ${percentOf(share)} % good, ${percentOf(row.goodLow)} to ${percentOf(row.goodHigh)} % in 95 of 100; ${years}${lost}`;
  return [
    `<rect x="${x}" y="${(floor - tall).toFixed(1)}" width="${width.toFixed(1)}" height="${tall.toFixed(1)}" fill="${toneOf(share)}" stroke="${FRAME}" stroke-width="0.7"><title>${told}</title></rect>`,
    textAt(
      middleOf(row.dayOfMonth - 1),
      Number((floor - tall - 3).toFixed(1)),
      String(percentOf(share)),
      'font-size="11.5" text-anchor="middle"',
    ),
  ];
}

function legend(y: number, withStart: boolean): string[] {
  const wide = 178;
  const keys = STEPS.map(({ from, words, tone }, at) => {
    const x = EDGE + LABEL + at * wide;
    const tall = (from + 0.1) * BAR;
    return [
      `<rect x="${x}" y="${(y + 30 - tall).toFixed(1)}" width="${CELL - 2}" height="${tall.toFixed(1)}" fill="${tone}" stroke="${FRAME}" stroke-width="0.7"/>`,
      textAt(x + CELL + 4, y + 16, words, 'font-size="12.5"'),
      textAt(
        x + CELL + 4,
        y + 30,
        at === STEPS.length - 1 ? '80 % and more' : `${from * 100} to ${Math.round((from + 0.2) * 100)} %`,
        `font-size="12" fill="${SOFT}"`,
      ),
    ].join('\n');
  });
  const x = EDGE + LABEL + STEPS.length * wide;
  return [
    ...keys,
    `<rect x="${x}" y="${y + 30 - BAR}" width="${CELL - 2}" height="${BAR}" fill="url(#odds-unknown)"/>`,
    textAt(x + CELL + 4, y + 24, 'not known', 'font-size="12.5"'),
    ...HOW_TO_READ.slice(0, withStart ? 3 : 2).map((line, at) =>
      textAt(EDGE + LABEL, y + 50 + at * 15, line, 'font-size="12"'),
    ),
  ];
}

/** The months with most and fewest good days; null where fewer than two months are known. */
function inShort(rows: readonly WindowRow[]): string | null {
  const months = FULL_MONTHS.map((name, at) => ({
    name,
    ...sumsOf(rows.filter(({ month }) => month === at + 1)),
  }))
    .flatMap(({ name, days, good }) => (good === null ? [] : [{ name, days, good }]))
    .sort((a, b) => b.good / b.days - a.good / a.days);
  const [best, worst] = [months[0], months.at(-1)];
  if (!best || !worst || best === worst) return null;
  const told = ({ name, days, good }: typeof best): string => `${name} (${Math.round(good)} of ${days} days)`;
  return `Most good days: ${told(best)}. Fewest: ${told(worst)}.`;
}

interface MonthSums {
  readonly days: number;
  readonly good: number | null;
  readonly lostMean: number | null;
  readonly holdBack: number | null;
}

/** What a month holds, 29 February left out: good days to expect, mean lost days, and the reserve of its worst date. */
function sumsOf(own: readonly WindowRow[]): MonthSums {
  const month = own[0]?.month ?? 1;
  const days = daysInMonth(2001, month);
  const mean = (values: readonly (number | null)[]): number | null => {
    const known = values.filter((value) => value !== null);
    return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
  };
  const share = mean(own.map(({ shrunkGoodShare }) => shrunkGoodShare));
  const reserves = own.map(({ lostP80 }) => lostP80).filter((value) => value !== null);
  return {
    days,
    good: share === null ? null : share * days,
    lostMean: mean(own.map(({ lostMean }) => lostMean)),
    holdBack: reserves.length === 0 ? null : Math.max(...reserves),
  };
}

function description({ rows, goodDay, statements, mostLostDays = 60 }: OddsCalendar): string {
  const months = FULL_MONTHS.map((name, month) => {
    const sums = sumsOf(rows.filter((row) => row.month === month + 1));
    return sums.good === null
      ? `${name}: not known.`
      : `${name}: ${Math.round(sums.good)} good days of ${sums.days}${sums.holdBack === null ? '' : `, hold back ${dayWords(sums.holdBack, mostLostDays)}`}.`;
  });
  return [`A good day: ${goodDay}`, ...months, ...statements].join(' ');
}

/** Notes in two columns of about the same length. */
function columnsOf(notes: readonly string[]) {
  const blocks = notes.map((note) =>
    wrapped(note, 92).map((text, at) => ({ text, indent: at > 0 && note.startsWith('•') ? 9 : 0 })),
  );
  const all = blocks.reduce((sum, block) => sum + block.length, 0);
  const placed: { x: number; line: number; text: string }[] = [];
  let line = 0;
  let longest = 0;
  let x = EDGE;
  for (const block of blocks) {
    if (x === EDGE && line > 0 && line + block.length / 2 > all / 2) {
      x = WIDTH / 2 + 10;
      line = 0;
    }
    for (const { text, indent } of block) {
      placed.push({ x: x + indent, line, text });
      line += 1;
    }
    longest = Math.max(longest, line);
  }
  return { placed, lines: longest };
}

/** A long title gets smaller letters rather than running off the edge. */
const titleSize = (title: string): number =>
  Math.min(24, Math.floor((WIDTH - 2 * EDGE) / (title.length * 0.65)));
const percentOf = (share: number): number => Math.round(share * 100);
/** By the figure as it is shown, so that tone and figure never disagree. */
const toneOf = (share: number): string =>
  (STEPS.findLast(({ from }) => percentOf(share) >= from * 100) ?? STEPS[0]).tone;
const dayWords = (days: number, most: number): string =>
  days >= most ? `${most}+ days` : `${days} ${days === 1 ? 'day' : 'days'}`;

function earliest(times: readonly (string | null)[]): string | null {
  return times.filter((time) => time !== null).sort()[0] ?? null;
}
