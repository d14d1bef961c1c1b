import type { ReactNode } from 'react';
import { CAUTIONS, type CautionKind } from '../words/cautions.ts';
import { Notice } from './notice.tsx';

/** The words that must stand wherever the screen speaks of something that can hurt people. */
export function Caution({ about }: { readonly about: readonly CautionKind[] }): ReactNode {
  return (
    <Notice kind="caution">
      <p>
        <strong>Planning aid only.</strong> {about.map((kind) => CAUTIONS[kind]).join(' ')} The manufacturer’s
        papers, the site’s own assessment and local law come first, and a licensed or competent person
        decides.
      </p>
    </Notice>
  );
}
