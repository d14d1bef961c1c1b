import type { ReactNode } from 'react';
import type { Pages } from '../api/use-pages.ts';
import { count } from '../format/counts.ts';
import { TroubleNotice } from './trouble-notice.tsx';

interface Props<T> {
  readonly pages: Pages<T>;
  /** What the list holds, such as "message". */
  readonly one: string;
  readonly none: ReactNode;
  readonly children: (items: readonly T[]) => ReactNode;
}

/** A list with its number, its next page, and what went wrong. */
export function PagedList<T>({ pages, one, none, children }: Props<T>): ReactNode {
  const { items, busy, hasMore } = pages;
  return (
    <>
      <TroubleNotice trouble={pages.trouble} again={pages.reload} />
      <p className="muted small" role="status">
        {items === null && busy && `Loading ${one}s …`}
        {items !== null &&
          items.length > 0 &&
          `${count(items.length, one)} shown${hasMore ? ', there are more' : ''}.`}
      </p>
      {items !== null && items.length === 0 && !busy && none}
      {items !== null && items.length > 0 && children(items)}
      {hasMore && (
        <button type="button" className="button button-plain" disabled={busy} onClick={pages.more}>
          {busy ? 'Loading …' : 'Show more'}
        </button>
      )}
    </>
  );
}
