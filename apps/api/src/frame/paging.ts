import type { Page } from '../../../../libs/contracts/src/http/common.ts';
import { canonicalJson } from '../../../../libs/kernel/src/index.ts';
import type { Call } from './call.ts';
import type { Cursors } from './cursor.ts';

interface PagedQuery {
  readonly limit: number;
  readonly cursor?: string | undefined;
}

/** Pages of one list: the cursors belong to its address, its other parameters and the caller. */
export class Paging<After> {
  readonly limit: number;
  /** The sort values of the last row of the page before; null on the first page. */
  readonly after: After | null;
  private readonly scope: string;
  private readonly cursors: Cursors;

  constructor(cursors: Cursors, call: Call) {
    const { limit, cursor, ...rest } = (call.input?.query ?? {}) as PagedQuery;
    const { organisationId, userId, role } = call.user;
    this.cursors = cursors;
    this.limit = limit;
    const params = call.input?.params ?? null;
    this.scope = canonicalJson({
      id: call.endpoint.id,
      params,
      rest: dropEmpty(rest),
      organisationId,
      userId,
      role,
    } as never);
    this.after = cursors.read<After>(this.scope, cursor);
  }

  /** The page of rows of which up to one more than asked for were read. */
  page<Row, Item>(
    rows: readonly Row[],
    itemOf: (row: Row) => Item,
    afterOf: (row: Row) => After,
  ): Page<Item> {
    const shown = rows.slice(0, this.limit);
    const last = shown.at(-1);
    const more = rows.length > this.limit && last !== undefined;
    return {
      items: shown.map(itemOf),
      nextCursor: more ? this.cursors.write(this.scope, afterOf(last)) : null,
    };
  }

  /** The page of rows that come with what to go on after. */
  pageOf<Item>(items: readonly Item[], next: After | null): Page<Item> {
    return { items, nextCursor: next === null ? null : this.cursors.write(this.scope, next) };
  }
}

function dropEmpty(values: object): object {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined));
}
