import { Inject, Injectable } from '@nestjs/common';
import type { Page } from '../../../../libs/contracts/src/http/common.ts';
import { type SeasonTableName, seasonTable } from '../../../../libs/contracts/src/season-file/tables.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { pageRows } from '../../../../libs/data/src/listing/row-page.ts';
import { getSeason } from '../../../../libs/data/src/season.repository.ts';
import {
  addRow,
  changeRow,
  findRow,
  removeRow,
  type StoredRow,
} from '../../../../libs/data/src/season-rows.repository.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { Paging } from '../frame/paging.ts';

type Values = Readonly<Record<string, unknown>>;

/** Rows of the season's tables, one at a time, in the words of the season file. */
@Injectable()
export class RecordsService {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(Cursors) private readonly cursors: Cursors,
  ) {}

  async list(table: SeasonTableName, params: Values, query: Values, call: Call): Promise<Page<StoredRow>> {
    const seasonId = await this.seasonId(params, call);
    const paging = new Paging<Record<string, unknown>>(this.cursors, call);
    const { limit: _limit, cursor: _cursor, sort, ...filters } = query;
    const { rows, next } = await pageRows(this.db, {
      seasonId,
      table,
      filters: Object.fromEntries(Object.entries(filters).filter(([, value]) => value !== undefined)),
      sort: sort as string | undefined,
      after: paging.after,
      limit: paging.limit,
    });
    return paging.pageOf(rows, next);
  }

  async get(table: SeasonTableName, params: Values, call: Call): Promise<StoredRow> {
    return this.find(table, await this.seasonId(params, call), params);
  }

  async add(table: SeasonTableName, params: Values, row: Values, call: Call): Promise<StoredRow> {
    const seasonId = await this.seasonId(params, call);
    return referring(() => addRow(this.db, { seasonId, table, row, actor: actorOf(call) }));
  }

  async change(
    table: SeasonTableName,
    params: Values,
    changes: Values,
    version: number,
    call: Call,
  ): Promise<StoredRow> {
    const seasonId = await this.seasonId(params, call);
    const { id } = await this.find(table, seasonId, params);
    return referring(() =>
      changeRow(this.db, { seasonId, table, id, version, changes, actor: actorOf(call) }),
    );
  }

  async remove(table: SeasonTableName, params: Values, version: number, call: Call): Promise<void> {
    const seasonId = await this.seasonId(params, call);
    const { id } = await this.find(table, seasonId, params);
    await removeRow(this.db, { seasonId, table, id, version, actor: actorOf(call) });
  }

  private async seasonId(params: Values, call: Call): Promise<string> {
    return (await getSeason(this.db, call.user.organisationId, params['season'] as string)).id;
  }

  private async find(table: SeasonTableName, seasonId: string, params: Values): Promise<StoredRow> {
    const key = Object.fromEntries(seasonTable(table).key.map((name) => [name, params[name]]));
    const row = await findRow(this.db, { seasonId, table, key });
    if (!row) throw new DryspellError('not-found', { table, ...key });
    return row;
  }
}

/** When a row is written, a broken reference is a fault of what was sent: it names a row that is not there. */
async function referring<T>(write: () => Promise<T>): Promise<T> {
  try {
    return await write();
  } catch (error) {
    if (!(error instanceof DryspellError) || error.code !== 'in-use') throw error;
    throw new DryspellError(
      'invalid-input',
      { ...error.data, detail: 'It refers to a row that is not there.' },
      error,
    );
  }
}
