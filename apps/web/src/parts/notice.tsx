import type { ReactNode } from 'react';

type Kind = 'done' | 'warn' | 'info' | 'caution';

const SIGNS: Readonly<Record<Kind, string>> = { done: '✓', warn: '!', info: 'i', caution: '△' };

/** A boxed remark; its kind shows in a sign as well as in its colour. */
export function Notice({ kind, children }: { readonly kind: Kind; readonly children: ReactNode }): ReactNode {
  return (
    <div className={`notice notice-${kind}`}>
      <span className="notice-sign" aria-hidden="true">
        {SIGNS[kind]}
      </span>
      <div>{children}</div>
    </div>
  );
}
