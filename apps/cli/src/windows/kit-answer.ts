import { goodDayWords } from '../../../../libs/intake/src/index.ts';
import { type HourRules, OPEN_GROUND } from '../../../../libs/weather/src/index.ts';
import type { CommandAnswer } from '../commands/command.ts';
import { textTable } from '../plan/text-table.ts';
import {
  type DateRow,
  HALF_WIDTH_DAYS,
  type KitRules,
  type KitWindows,
  MONTH_WEIGHT_YEARS,
  MOST_LOST_DAYS,
} from './kit-windows.ts';
import type { OpenedRecord } from './open-record.ts';
import type { SeasonWork } from './season-work.ts';
import { offsetText, percent, type Statement } from './window-statements.ts';

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);
const PROFILE: HourRules['windProfile'] = OPEN_GROUND;

/** The windows of a kit for a program and for people. */
export function kitAnswer(
  { file, record }: OpenedRecord,
  season: SeasonWork,
  rules: KitRules,
  windows: KitWindows,
  statements: readonly Statement[],
  everyDate: boolean,
): CommandAnswer {
  const { rows, basis, clock, kind } = windows;
  const { name, lat, lon, elevationM } = record.place;
  const facts = {
    file,
    place: { name, lat, lon, elevationM, source: record.source, standardOffsetMin: record.standardOffsetMin },
    kit: season.kit,
    template: season.template,
    season: season.season,
    rules: {
      shift: clock,
      year: rules.year,
      gustFactor: rules.gustFactor,
      windProfile: PROFILE,
      inARow: rules.inARow,
      halfWidthDays: HALF_WIDTH_DAYS,
      mostLostDays: MOST_LOST_DAYS,
      monthWeightYears: MONTH_WEIGHT_YEARS,
    },
    basis: { kind, ...basis },
    statements,
    rows,
  };
  const lines = [
    `${season.kit.name}: ${season.template.name}, at ${name} (${lat}, ${lon}; file’s clock ${offsetText(record.standardOffsetMin)})`,
    `A day is good if ${goodDayWords({ work: season.work, shift: clock })}`,
    kind === 'typical-year'
      ? `A typical year, ${basis.judgedDays} days judged.`
      : `${basis.firstDate} to ${basis.lastDate}, ${basis.judgedDays} days judged.`,
    '',
    ...(kind === 'many-years' ? manyYears(rows, everyDate) : oneYear(rows, everyDate)),
    '',
    ...statements.map(({ words }) => `· ${words}`),
  ];
  return { facts, lines };
}

const ODDS_HEAD = ['lost mean', 'P50', 'P80', 'P95', 'start by'];

function oneYear(rows: readonly DateRow[], everyDate: boolean): string[] {
  const count = (of: readonly DateRow[], state: DateRow['state']): string =>
    String(of.filter((row) => row.state === state).length);
  const months = byMonth(rows).map(([month, of]) => [
    month,
    ...(['good', 'split', 'bad', 'unknown'] as const).map((state) => count(of, state)),
    ...oddsCells(of),
  ]);
  const table = textTable(
    [['month', 'good', 'over two days', 'bad', 'unknown', ...ODDS_HEAD], ...months],
    [1, 2, 3, 4, 5, 6, 7, 8, 9],
  );
  if (!everyDate) return [...table, '', MONTH_NOTE];
  const dates = rows.map((row) => [
    row.date,
    row.state === 'split' ? 'over two days' : String(row.state),
    ...dateCells(row),
  ]);
  return [...table, '', ...dateTable(['date', 'day', ...DATE_HEAD], dates)];
}

function manyYears(rows: readonly DateRow[], everyDate: boolean): string[] {
  const months = byMonth(rows).map(([month, of]) => {
    const shares = known(of.map(({ shrunkGoodShare }) => shrunkGoodShare));
    const range =
      shares.length === 0 ? '-' : `${percent(Math.min(...shares))} to ${percent(Math.max(...shares))}`;
    return [month, shareText(mean(shares)), range, ...oddsCells(of)];
  });
  const table = textTable(
    [['month', 'good days', 'worst to best date', ...ODDS_HEAD], ...months],
    [1, 2, 3, 4, 5, 6, 7],
  );
  if (!everyDate) return [...table, '', MONTH_NOTE];
  const dates = rows.map((row) => [row.date, ...dateCells(row)]);
  return [...table, '', ...dateTable(['date', ...DATE_HEAD], dates)];
}

const MONTH_NOTE =
  'Lost days: mean over the month, P50 to P95 of its worst date; start by: earliest of the month. --all lists every date, --json too.';

/** Mean lost days, the worst quantiles of the month's dates, and the earliest latest start. */
function oddsCells(rows: readonly DateRow[]): string[] {
  const lost = rows.map(({ lostDays }) => lostDays);
  const most = (values: (number | null)[]): string => {
    const list = known(values);
    return quantileText(list.length === 0 ? null : Math.max(...list));
  };
  const starts = rows.map(({ latestStart }) => latestStart).filter((start) => start !== null);
  return [
    dayText(mean(known(lost.map((days) => days.mean)))),
    most(lost.map(({ p50 }) => p50)),
    most(lost.map(({ p80 }) => p80)),
    most(lost.map(({ p95 }) => p95)),
    starts.length === 0 ? '-' : (starts.sort()[0] as string),
  ];
}

const DATE_HEAD = ['good share', 'with its month', '95 % interval', 'years', ...ODDS_HEAD];

function dateCells(row: DateRow): string[] {
  const { lostDays } = row;
  return [
    shareText(row.goodShare),
    shareText(row.shrunkGoodShare),
    row.years === 0 ? '-' : `${percent(row.goodLow)} to ${percent(row.goodHigh)}`,
    String(row.years),
    dayText(lostDays.mean),
    ...[lostDays.p50, lostDays.p80, lostDays.p95].map(quantileText),
    row.latestStart ?? '-',
  ];
}

function dateTable(head: readonly string[], rows: readonly string[][]): string[] {
  return textTable([head, ...rows], head.map((_, at) => at).slice(head[1] === 'day' ? 2 : 1));
}

function byMonth(rows: readonly DateRow[]): [string, DateRow[]][] {
  return MONTHS.map((name, at): [string, DateRow[]] => [
    name,
    rows.filter(({ date }) => Number(date.slice(-5, -3)) === at + 1),
  ]).filter(([, of]) => of.length > 0);
}

const known = (values: readonly (number | null)[]): number[] => values.filter((value) => value !== null);
const mean = (values: readonly number[]): number | null =>
  values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
const shareText = (share: number | null): string => (share === null ? '-' : percent(share));
const dayText = (days: number | null): string => (days === null ? '-' : days.toFixed(1));
const quantileText = (days: number | null): string =>
  days === null ? '-' : days >= MOST_LOST_DAYS ? `${MOST_LOST_DAYS}+` : String(days);
