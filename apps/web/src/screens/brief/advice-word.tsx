import type { ReactNode } from 'react';
import type { MorningBrief } from '../../../../../libs/contracts/src/http/brief-schema.ts';
import { ADVICE } from '../../words/brief-words.ts';

/** The advice as a word, its sign and its outline before any colour. */
export function AdviceWord({ advice }: { readonly advice: MorningBrief['advice'] }): ReactNode {
  const { word, sign } = ADVICE[advice];
  return (
    <strong className={`advice advice-${advice} plain-face`}>
      <span aria-hidden="true">{sign}</span>
      {word}
    </strong>
  );
}
