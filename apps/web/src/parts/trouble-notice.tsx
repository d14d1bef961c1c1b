import { type ReactNode, useEffect, useRef } from 'react';
import type { Trouble } from '../api/problem.ts';

interface Props {
  readonly trouble: Trouble | null;
  readonly again?: () => void;
}

/** What went wrong and what to do next; takes the focus when it appears, so that nobody misses it. */
export function TroubleNotice({ trouble, again }: Props): ReactNode {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (trouble) box.current?.focus();
  }, [trouble]);
  if (!trouble) return null;
  return (
    <div className="notice notice-trouble" role="alert" tabIndex={-1} ref={box}>
      <p className="notice-head">
        <span aria-hidden="true">✕ </span>
        {trouble.title}
      </p>
      {trouble.detail !== trouble.title && <p>{trouble.detail}</p>}
      {trouble.faults.length > 0 && (
        <ul>
          {trouble.faults.map((fault) => (
            <li key={`${fault.where} ${fault.message}`}>
              <code>{fault.where.replace(/^\/body\//, '')}</code>: {fault.message}
              {fault.expected && ` Right would be: ${fault.expected}.`}
            </li>
          ))}
        </ul>
      )}
      {trouble.nextStep && (
        <p>
          <strong>Next:</strong> {trouble.nextStep}
        </p>
      )}
      {again && (
        <button type="button" className="button button-plain" onClick={again}>
          Try again
        </button>
      )}
      {trouble.reference && <p className="small">Reference for help: {trouble.reference}</p>}
    </div>
  );
}
