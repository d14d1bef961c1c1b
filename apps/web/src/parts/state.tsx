import type { ReactNode } from 'react';
import { type StateOf, stateWords } from '../words/state-words.ts';

/** A state as a word with its sign. */
export function State({ of, state }: { readonly of: StateOf; readonly state: string }): ReactNode {
  const { words, sign, tone } = stateWords(of, state);
  return (
    <span className={tone === 'plain' ? 'state' : `state state-${tone}`}>
      <span aria-hidden="true">{sign}</span>
      {words}
    </span>
  );
}
