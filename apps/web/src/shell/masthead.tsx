import type { ReactNode } from 'react';
import { useAction } from '../api/use-action.ts';
import { TroubleNotice } from '../parts/trouble-notice.tsx';
import type { Me, SessionControl } from './session.ts';

interface Props {
  readonly me: Me;
  readonly control: SessionControl;
  /** The choice of season, for who has one. */
  readonly children?: ReactNode;
}

/** Whose program this is, who is signed in, and the way out. */
export function Masthead({ me, control, children }: Props): ReactNode {
  const leave = useAction(control.signOut);
  return (
    <header>
      <div className="masthead plain-face">
        <p className="masthead-name">Dryspell</p>
        {children}
        <div className="masthead-who">
          <span>
            {me.name}
            <span className="masthead-firm">, {me.organisation.name}</span>
          </span>
          <button
            type="button"
            className="button button-small"
            disabled={leave.busy}
            onClick={() => leave.run()}
          >
            Sign out
          </button>
        </div>
      </div>
      {me.organisation.demo && (
        <p className="demo-strip">Demo: firms, people, sites and figures are invented.</p>
      )}
      <TroubleNotice trouble={leave.trouble} />
    </header>
  );
}
