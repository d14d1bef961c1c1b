import type { ReactNode } from 'react';
import type { Loaded } from '../api/use-loaded.ts';
import { TroubleNotice } from './trouble-notice.tsx';

interface Props<T> {
  readonly from: Loaded<T>;
  /** What is being loaded, such as "messages". */
  readonly what: string;
  readonly children: (data: T) => ReactNode;
}

/** Shows what was loaded; before that, that it is loading, or what went wrong. */
export function Loading<T>({ from, what, children }: Props<T>): ReactNode {
  return (
    <>
      <TroubleNotice trouble={from.trouble} again={from.reload} />
      {from.data === null && from.busy && (
        <p className="muted" role="status">
          Loading {what} …
        </p>
      )}
      {from.data !== null && children(from.data)}
    </>
  );
}
