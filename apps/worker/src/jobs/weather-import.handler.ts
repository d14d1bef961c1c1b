import { z } from 'zod';
import type { weatherImport } from '../../../../libs/contracts/src/jobs/index.ts';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { importBytes } from '../../../../libs/data/src/weather/import-bytes.ts';
import { importRecord } from '../../../../libs/data/src/weather/import-record.ts';
import {
  endImport,
  type ImportFindings,
  reportImport,
  startImport,
  type WeatherImport,
} from '../../../../libs/data/src/weather/imports.repository.ts';
import { getRecordTarget, type RecordTarget } from '../../../../libs/data/src/weather/record-target.ts';
import {
  placeWarnings,
  type TableFacts,
  weatherFileReader,
  whyNoRecord,
} from '../../../../libs/intake/src/index.ts';
import { type Clock, DryspellError, instantFromMs } from '../../../../libs/kernel/src/index.ts';
import type { JobHandler, JobRun } from '../../../../libs/queue/src/queue.port.ts';
import { reasonOf } from '../../../../libs/queue/src/queue-error.ts';
import { type HourlyRecord, lineFeeder, type Reading } from '../../../../libs/weather/src/index.ts';
import type { Log } from '../log.ts';

export interface WeatherImportParams {
  readonly db: Database;
  readonly clock: Clock;
  readonly log: Log;
}

const optionsSchema = z.object({
  format: z.enum(['auto', 'epw', 'csv']).default('auto'),
  keepGood: z.boolean().default(false),
  replace: z.boolean().default(false),
  columns: z.string().optional(),
  zone: z.string().optional(),
  utcOffsetMin: z.number().optional(),
  stampIs: z.enum(['start', 'end']).optional(),
  dateOrder: z.enum(['ymd', 'mdy', 'dmy']).optional(),
  linesBeforeHeader: z.number().optional(),
});

/** A run says how far it is, and that it lives, so often. */
const REPORT_MS = 1_000;
const actor = systemActor('weather import');

/** The run is another worker's by now: this one writes nothing more. */
class RunLost extends Error {}

/**
 * Reads one uploaded weather file in. All of its hours are stored or none; the row says how it ended. Run twice, the second finds it over or
 * taken; killed on the way, the sweep queues it again, and the same hours stored again change nothing.
 */
export function weatherImportHandler(params: WeatherImportParams): JobHandler<typeof weatherImport> {
  return async ({ importId }, run) => {
    const { db, clock, log } = params;
    const work = await startImport(db, { id: importId, now: clock.now() });
    if (work === null) return;
    const report = reporter(params, work, run);
    try {
      await readIn(params, work, report);
    } catch (error) {
      if (error instanceof RunLost) return;
      if (run.signal.aborted) throw error;
      const fault = faultOf(error);
      if (fault === null) throw error;
      log.warn({ weatherImport: work.id, reason: reasonOf(error) }, 'a weather file was not read in');
      await endImport(db, { id: work.id, attempt: work.attempts, fault, actor, now: clock.now() });
    } finally {
      report.end();
    }
  };
}

async function readIn(
  { db, clock, log }: WeatherImportParams,
  work: WeatherImport,
  report: Reporter,
): Promise<void> {
  const options = optionsSchema.parse(work.options);
  const { organisationId, season, targetKind: kind, targetKey: key } = work;
  const target = await getRecordTarget(db, { organisationId, season, kind, key });
  const reader = weatherFileReader({ format: options.format, target, table: tableOf(options) });
  const feeder = lineFeeder(reader);
  const decoder = new TextDecoder('utf-8');
  for await (const bytes of importBytes(db, work.id)) {
    feeder.feed(decoder.decode(bytes, { stream: true }));
    report.far(bytes.byteLength, reader.lines);
    report.check();
  }
  feeder.feed(decoder.decode());
  feeder.end();
  const reading = reader.finish({ keepGood: options.keepGood });
  const end = {
    id: work.id,
    attempt: work.attempts,
    findings: findingsOf(reading, target, reader.lines),
    actor,
  };
  if (reading.record === null) {
    await endImport(db, { ...end, fault: whyNoRecord(reading), now: clock.now() });
    return;
  }
  const { series, stored } = await importRecord(db, {
    organisationId,
    target,
    record: reading.record,
    replace: options.replace,
    actor: { kind: 'system', id: null, name: work.requestedBy },
  });
  report.check();
  const result = { hours: reading.record.hourIndex.length, ...stored, ...spanOf(reading.record) };
  await endImport(db, { ...end, seriesId: series.id, result, now: clock.now() });
  log.info({ weatherImport: work.id, series: series.key, ...stored }, 'weather file read in');
}

function tableOf({
  format: _format,
  keepGood: _keep,
  replace: _replace,
  columns,
  ...rest
}: z.output<typeof optionsSchema>): TableFacts {
  const named = (columns ?? '').split(';').filter((column) => column.trim() !== '');
  const given = Object.entries({ ...rest, columns: named }).filter(([, value]) => value !== undefined);
  return Object.fromEntries(given);
}

function findingsOf(reading: Reading, target: RecordTarget, linesDone: number): ImportFindings {
  const { badLineCount, badLines, warnings, record } = reading;
  const far = record === null ? [] : placeWarnings(record.place, target);
  return { linesDone, badLineCount, badLines, warnings: [...warnings, ...far] };
}

function spanOf({ hourIndex, standardOffsetMin }: HourlyRecord) {
  const at = (hour: number) => instantFromMs((hour * 60 - standardOffsetMin) * 60_000);
  return { from: at(hourIndex[0] as number), to: at(hourIndex[hourIndex.length - 1] as number) };
}

interface Reporter {
  far(bytes: number, lines: number): void;
  /** Throws when the run is no longer this worker's, or the process ends. */
  check(): void;
  end(): void;
}

function reporter({ db, clock, log }: WeatherImportParams, work: WeatherImport, run: JobRun): Reporter {
  let bytesDone = 0;
  let linesDone = 0;
  let isOurs = true;
  const timer = setInterval(() => {
    const input = { id: work.id, attempt: work.attempts, bytesDone, linesDone, now: clock.now() };
    reportImport(db, input).then(
      (ours) => {
        isOurs = ours;
      },
      (error) =>
        log.warn({ weatherImport: work.id, reason: reasonOf(error) }, 'progress could not be reported'),
    );
  }, REPORT_MS);
  return {
    far: (bytes, lines) => {
      bytesDone += bytes;
      linesDone = lines;
    },
    check: () => {
      if (!isOurs) throw new RunLost('the run is no longer this worker’s');
      run.signal.throwIfAborted();
    },
    end: () => clearInterval(timer),
  };
}

/** What the person who sent the file can do about it; null where the database is away, so that the run is taken up again. */
function faultOf(error: unknown): string | null {
  if (!(error instanceof DryspellError))
    return 'The program failed on this file. It has been logged; report it, with the file.';
  if (error.code === 'unavailable' || error.code === 'state-conflict') return null;
  if (error.code === 'not-found')
    return 'The station or site is no longer in the season. Choose another one and upload the file again.';
  if (error.data['field'] === 'columns')
    return `"${error.data['value']}" names no column: write ${error.data['expected']}.`;
  if (error.data['field'] === 'typicalYear') {
    return `The file cannot be mixed with what is there: it holds ${error.data['value'] ? 'a typical year' : 'real years'}, the record does not. Upload it again with "replace" to put it in the place of the record.`;
  }
  if (error.data['field'] === 'standardOffsetMin') {
    return 'The clock of the file differs from that of the record by part of an hour. Upload it again with "replace", or mend its time zone.';
  }
  return 'The hours of the file were refused by the database. It has been logged; report it, with the file.';
}
