import { Inject, Injectable } from '@nestjs/common';
import { jsonPointer } from '../../../../libs/contracts/src/errors/problem.ts';
import type { SeasonFile } from '../../../../libs/contracts/src/season-file/season-file.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  getSeason,
  listSeasons,
  type SeasonInfo,
  updateSeasonHead,
} from '../../../../libs/data/src/season.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import {
  applyImport,
  type ImportReport,
  planImport,
} from '../../../../libs/data/src/season-import.repository.ts';
import { readSeasonWorkbook } from '../../../../libs/documents/src/season-sheets/read-season.ts';
import { writeSeasonWorkbook } from '../../../../libs/documents/src/season-sheets/write-workbook.ts';
import { checkSeasonFile, faultsBetweenRows, readSeasonFile } from '../../../../libs/intake/src/index.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import type { Call } from '../frame/call.ts';
import { ProblemError } from '../frame/problem-error.ts';

interface UploadedFile {
  readonly bytes: Uint8Array | null;
  readonly json: unknown;
}

interface SeasonFault {
  readonly table: string;
  readonly row: number;
  readonly column: string;
  readonly message: string;
  readonly expected: string;
  readonly sheet?: string;
  readonly sheetRow?: number;
  readonly columnLetter?: string;
}

/** Seasons as a whole: their own row, and the season file in and out. */
@Injectable()
export class SeasonService {
  constructor(@Inject(DATABASE) private readonly db: Database) {}

  async list(call: Call): Promise<SeasonInfo[]> {
    return listSeasons(this.db, call.user.organisationId);
  }

  async get(key: string, call: Call): Promise<SeasonInfo> {
    return getSeason(this.db, call.user.organisationId, key);
  }

  async change(key: string, changes: object, version: number, call: Call): Promise<SeasonInfo> {
    const season = await this.get(key, call);
    return updateSeasonHead(this.db, { seasonId: season.id, version, changes, actor: actorOf(call) });
  }

  async export(key: string, format: 'json' | 'xlsx', call: Call): Promise<string | Uint8Array> {
    const file = await exportSeason(this.db, call.user.organisationId, key);
    return format === 'json' ? `${JSON.stringify(file, null, 2)}\n` : writeSeasonWorkbook(file);
  }

  /** Reads a file into its season, or says what that would change. Throws `season-file-invalid` with every fault. */
  async import(
    upload: UploadedFile,
    dryRun: boolean,
    call: Call,
  ): Promise<{ season: string; report: ImportReport }> {
    const file = upload.bytes ? fromWorkbook(upload.bytes) : fromJson(upload.json);
    const { organisationId } = call.user;
    const season = file.season.key;
    try {
      const report = dryRun
        ? await planImport(this.db, organisationId, file)
        : await applyImport(this.db, organisationId, file, actorOf(call));
      if (!report.ok) throw refusal(report.faults);
      return { season, report };
    } catch (error) {
      if (error instanceof DryspellError && error.code === 'season-file-invalid') {
        throw refusal(error.data['faults'] as SeasonFault[]);
      }
      throw error;
    }
  }
}

function fromJson(value: unknown): SeasonFile {
  const result = readSeasonFile(value);
  if (!result.ok) throw refusal(result.faults);
  return result.value;
}

function fromWorkbook(bytes: Uint8Array): SeasonFile {
  const result = readSeasonWorkbook(bytes);
  if (!result.ok) throw refusal([...result.faults, ...faultsBetweenRows(result.rows, result.faults)]);
  const faults = checkSeasonFile(result.seasonFile);
  if (faults.length > 0) throw refusal(faults);
  return result.seasonFile;
}

/** Faults past this number are counted, not listed. */
const MOST_FAULTS = 500;

function refusal(faults: readonly SeasonFault[]): ProblemError {
  return new ProblemError('season-file-invalid', {
    errors: faults.slice(0, MOST_FAULTS).map((fault) => ({
      pointer: pointerOf(fault),
      message: `${placeOf(fault)}${fault.message}`,
      expected: fault.expected,
    })),
    facts: { faults: faults.length },
  });
}

function pointerOf({ table, row, column }: SeasonFault): string {
  const segments = ['body', table, row > 0 ? String(row - 1) : '', column].filter(
    (segment) => segment !== '',
  );
  return jsonPointer(segments);
}

/** Where a person looks for it in a workbook. */
function placeOf({ sheet, sheetRow, columnLetter }: SeasonFault): string {
  if (!sheet) return '';
  const cell = sheetRow ? `, ${columnLetter ? `cell ${columnLetter}${sheetRow}` : `row ${sheetRow}`}` : '';
  return `Sheet "${sheet}"${cell}: `;
}
