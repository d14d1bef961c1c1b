import { type BlockRules, blockDays } from '../../../../libs/weather/src/index.ts';
import type { CommandAnswer } from '../commands/command.ts';
import { textTable } from '../plan/text-table.ts';
import { PlainError } from '../program/plain-error.ts';
import type { OpenedRecord } from './open-record.ts';
import { clockText } from './window-options.ts';
import { CAUTION, offsetText, percent, recordStatements, type Statement } from './window-statements.ts';

/** The days of a file that hold a block of workable hours, for checking by hand. */
export function blockAnswer(opened: OpenedRecord, rules: BlockRules, gustFactor: number): CommandAnswer {
  const { file, record, place } = opened;
  if (rules.daylight && place === null)
    throw new PlainError(
      `${file} does not say where it was recorded, so daylight is not known. Say it with --place LAT,LON, or leave --daylight out.`,
    );
  const rows = blockDays(record, { ...rules, gustFactor }).map(
    ({ year, month, dayOfMonth, longestRunHours, good }) => ({
      date: [year, ...[month, dayOfMonth].map((part) => String(part).padStart(2, '0'))].join('-'),
      longestRunHours,
      good,
    }),
  );
  const goodDays = rows.filter(({ good }) => good === true).length;
  const knownDays = rows.filter(({ good }) => good !== null).length;
  const goodShare = knownDays === 0 ? null : goodDays / knownDays;
  const statements = statementsOf(opened, rules, gustFactor);
  const { name, lat, lon, elevationM } = record.place;
  const limits = {
    shift: { from: clockText(rules.shiftFromMin), to: clockText(rules.shiftToMin) },
    blockHours: rules.blockHours,
    maxWindMps: rules.maxWindMps,
    maxGustMps: rules.maxGustMps,
    maxRainMm: rules.maxRainMm,
    gustFactor,
    daylight: rules.daylight,
  };
  return {
    facts: {
      file,
      place: {
        name,
        lat: place === null ? null : lat,
        lon: place === null ? null : lon,
        elevationM,
        standardOffsetMin: record.standardOffsetMin,
      },
      limits,
      statements,
      rows,
      goodDays,
      knownDays,
      goodShare,
    },
    lines: [
      ...textTable(
        [
          ['date', 'longest run', 'good'],
          ...rows.map(({ date, longestRunHours, good }) => [
            date,
            `${longestRunHours} h`,
            good === null ? 'unknown' : good ? 'yes' : 'no',
          ]),
        ],
        [1],
      ),
      '',
      goodShare === null
        ? `No day of ${rows.length} is known.`
        : `${goodDays} good days of ${knownDays} known, ${percent(goodShare)}; ${rows.length - knownDays} unknown.`,
      ...statements.map(({ words }) => words),
    ],
  };
}

function statementsOf(opened: OpenedRecord, rules: BlockRules, gustFactor: number): Statement[] {
  const { record } = opened;
  const limits = [
    rules.maxWindMps === null ? null : `mean wind to ${rules.maxWindMps} m/s`,
    rules.maxGustMps === null ? null : `gusts to ${rules.maxGustMps} m/s`,
    rules.maxRainMm === null ? null : `rain to ${rules.maxRainMm} mm an hour`,
  ].filter((part) => part !== null);
  const hours = rules.daylight ? 'whole hours between sunrise and sunset' : 'whole hours, light or dark,';
  const list: Statement[] = [
    {
      code: 'good-day',
      words: `A day is good if it has at least ${rules.blockHours} ${hours} in a row between ${clockText(rules.shiftFromMin)} and ${clockText(rules.shiftToMin)} (file’s own standard time, ${offsetText(record.standardOffsetMin)}) with ${limits.join(' and ')}, at 10 m.`,
    },
  ];
  if (rules.maxGustMps !== null && record.gustMps.some(Number.isNaN))
    list.push({
      code: 'gust-estimated',
      words: `Where the file has no gust it is estimated as mean wind x ${gustFactor}.`,
    });
  list.push(...recordStatements(opened, rules.maxRainMm !== null), CAUTION);
  return list;
}
