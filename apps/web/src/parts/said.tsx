import { type ReactNode, useEffect, useRef } from 'react';
import { Notice } from './notice.tsx';

/**
 * What was done, spoken as it appears. Where the button that did it is gone with its line, the focus comes here instead
 * of falling back to the top of the page.
 */
export function Said({ words }: { readonly words: string }): ReactNode {
  const box = useRef<HTMLDivElement>(null);
  const waiting = useRef('');
  const last = useRef('');
  useEffect(() => {
    if (words !== last.current) waiting.current = words;
    last.current = words;
    if (waiting.current === '' || document.activeElement !== document.body) return;
    waiting.current = '';
    box.current?.focus();
  });
  return (
    <div role="status" ref={box} tabIndex={-1}>
      {words && (
        <Notice kind="done">
          <p>{words}</p>
        </Notice>
      )}
    </div>
  );
}
