import path from 'node:path';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import { importRecord } from '../../../../libs/data/src/weather/import-record.ts';
import { getRecordTarget } from '../../../../libs/data/src/weather/record-target.ts';
import { recordKey } from '../../../../libs/data/src/weather/series.repository.ts';
import { placeWarnings, type TableFacts, whyNoRecord } from '../../../../libs/intake/src/index.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import { findingLines, storedLine } from '../weather-io/import-lines.ts';
import { readWeatherFile } from '../weather-io/read-weather-file.ts';
import {
  type Command,
  type CommandAnswer,
  type CommandInput,
  onePositional,
  optionalText,
  UsageError,
  wholeNumber,
} from './command.ts';
import { chooseSeason } from './export.command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

export const weatherImportCommand: Command = {
  name: 'weather import',
  summary: 'Read a file of hourly weather into the record of a station or site.',
  usage: '<file.epw | file.csv>',
  help: [
    '  --station <key>       the record is that of a weather station of the season',
    '  --site <key>          or of a site itself; it then comes before that of its station',
    '  --season <key>        which season; only needed when there are several',
    '  --format <name>       auto (default), epw or csv; auto also knows METAR and SPECI reports, one a line,',
    '                        the first with its time before it as 201901312250',
    '  --keep-good           leave lines out that cannot be read; else one of them stops the import',
    '  --replace             throw the hours away that are there; else a known value is never wiped by a missing one',
    '  --dry-run             read the file and say what is found, and change nothing',
    ORGANISATION_HELP,
    '',
    '  Only for tables of hours (CSV) that do not say it themselves:',
    '  --column <Header=field:unit>  a column by hand; may be given several times, and then no other column is read.',
    '                        Fields: time, date, timeOfDay, tempC, dewPointC, rhPct, rainMm, windMps, gustMps, thunder',
    '  --zone <IANA zone>    the clock of times without an offset; or --utc-offset-min <minutes> for a clock without summer time',
    '  --stamp <start|end>   whether a time names the start of its hour (default) or its end',
    '  --date-order <ymd|mdy|dmy>    order of day, month and year (default: ymd)',
    '  --skip-lines <n>      lines before the header',
    '',
    '  The same file twice changes nothing. Exit code: 0 read in, 1 the file cannot be used (or wrong arguments: 2).',
    '',
  ],
  options: {
    station: { type: 'string' },
    site: { type: 'string' },
    season: { type: 'string' },
    format: { type: 'string' },
    'keep-good': { type: 'boolean' },
    replace: { type: 'boolean' },
    'dry-run': { type: 'boolean' },
    column: { type: 'string', multiple: true },
    zone: { type: 'string' },
    'utc-offset-min': { type: 'string' },
    stamp: { type: 'string' },
    'date-order': { type: 'string' },
    'skip-lines': { type: 'string' },
    ...ORGANISATION_OPTION,
  },
  async run(input) {
    const file = onePositional(input, 'weather file');
    const { kind, key } = targetOf(input);
    const format = choice(input, 'format', ['auto', 'epw', 'csv']) ?? 'auto';
    const table = tableOf(input);
    const [keepGood, replace, dryRun] = ['keep-good', 'replace', 'dry-run'].map(
      (name) => input.values[name] === true,
    );
    return withOrganisation(input, { create: false }, async (db, organisation): Promise<CommandAnswer> => {
      const { id: organisationId } = organisation;
      const { head } = await chooseSeason(db, organisation, optionalText(input, 'season'));
      const target = await getRecordTarget(db, { organisationId, season: head.key, kind, key }).catch(
        unknownTarget,
      );
      const read = { file, format, target, table, keepGood: keepGood === true, say: input.say };
      const { lines, reading } = await readWeatherFile(read).catch(wrongColumn);
      const { record, badLines, badLineCount, goodHours, gaps } = reading;
      const warnings = [...reading.warnings, ...(record ? placeWarnings(record.place, target) : [])];
      const found = { file: path.basename(file), lines, goodHours, badLineCount, badLines, gaps, warnings };
      const facts = { series: recordKey(kind, key), dryRun: dryRun === true, ...found };
      const findings = findingLines(reading, warnings);
      if (record === null) {
        const why = whyNoRecord(reading).replace('keep the', 'pass --keep-good to keep the');
        return {
          facts: { ...facts, stored: null, fault: why },
          lines: [...findings, `nothing was read in: ${why}`],
          exitCode: 1,
        };
      }
      if (dryRun) {
        const said = `${record.hourIndex.length} hours would be read in as ${facts.series}; nothing was changed`;
        return { facts: { ...facts, stored: null }, lines: [...findings, said] };
      }
      const onProgress = (done: number) => input.say(`${done} of ${record.hourIndex.length} hours stored`);
      const actor = systemActor('dryspell weather import');
      const { stored } = await importRecord(db, {
        organisationId,
        target,
        record,
        replace: replace === true,
        actor,
        onProgress,
      }).catch(otherClock);
      return {
        facts: { ...facts, stored },
        lines: [...findings, storedLine(facts.series, record, stored)],
      };
    });
  },
};

function targetOf(input: CommandInput): { kind: 'station' | 'site'; key: string } {
  const station = optionalText(input, 'station');
  const site = optionalText(input, 'site');
  if ((station === undefined) === (site === undefined))
    throw new UsageError(
      'say what the record is for: --station with the key of a weather station, or --site with that of a site',
    );
  return station === undefined ? { kind: 'site', key: site as string } : { kind: 'station', key: station };
}

function choice<Word extends string>(
  input: CommandInput,
  name: string,
  words: readonly Word[],
): Word | undefined {
  const text = optionalText(input, name);
  if (text === undefined) return undefined;
  const word = words.find((known) => known === text);
  if (!word) throw new UsageError(`--${name} is one of ${words.join(', ')}; got "${text}"`);
  return word;
}

function tableOf(input: CommandInput): TableFacts {
  const columns = input.values['column'];
  const zone = optionalText(input, 'zone');
  const stampIs = choice(input, 'stamp', ['start', 'end']);
  const dateOrder = choice(input, 'date-order', ['ymd', 'mdy', 'dmy']);
  const hasOffset = optionalText(input, 'utc-offset-min') !== undefined;
  return {
    columns: Array.isArray(columns) ? columns.map(String) : [],
    linesBeforeHeader: wholeNumber(input, 'skip-lines', { min: 0, max: 1000, fallback: 0 }),
    ...(zone === undefined ? {} : { zone }),
    ...(hasOffset
      ? { utcOffsetMin: wholeNumber(input, 'utc-offset-min', { min: -840, max: 840, fallback: 0 }) }
      : {}),
    ...(stampIs === undefined ? {} : { stampIs }),
    ...(dateOrder === undefined ? {} : { dateOrder }),
  };
}

function unknownTarget(error: unknown): never {
  if (!(error instanceof DryspellError) || error.code !== 'not-found') throw error;
  const { season, station, site } = error.data as { season?: string; station?: string; site?: string };
  const what = station === undefined ? `site "${site}"` : `weather station "${station}"`;
  throw new PlainError(
    `the season ${season} has no ${what}. Put it into the season first, or name another one.`,
  );
}

function wrongColumn(error: unknown): never {
  if (error instanceof DryspellError && error.data['field'] === 'columns')
    throw new UsageError(`--column is ${error.data['expected']}; got "${error.data['value']}"`);
  throw error;
}

function otherClock(error: unknown): never {
  if (error instanceof DryspellError && error.data['field'] === 'typicalYear')
    throw new PlainError(
      `the file holds ${error.data['value'] ? 'a typical year' : 'real years'} and the record does not; they cannot be mixed. Pass --replace to put the file in its place.`,
    );
  if (error instanceof DryspellError && error.data['field'] === 'standardOffsetMin')
    throw new PlainError(
      'the clocks of file and record differ by part of an hour. Mend the time zone of the file, or pass --replace.',
    );
  throw error;
}
