import type { ReactNode } from 'react';
import type { Action } from '../api/use-action.ts';

interface Props {
  readonly answer: Action<['accepted' | 'declined']>;
  /** What the answer is about, for those who hear the buttons one by one. */
  readonly about: string;
  /** The word on the button that says yes. */
  readonly yes: string;
  /** What was answered already: its button is left out, the other one changes the answer. */
  readonly given: 'yes' | 'no' | null;
}

/** Yes and no to something that was asked. */
export function AnswerButtons({ answer, about, yes, given }: Props): ReactNode {
  const unseen = <span className="unseen">: {about}</span>;
  return (
    <>
      {given !== 'yes' && (
        <button
          type="button"
          className="button"
          disabled={answer.busy}
          onClick={() => answer.run('accepted')}
        >
          {yes}
          {unseen}
        </button>
      )}
      {given !== 'no' && (
        <button
          type="button"
          className="button button-plain"
          disabled={answer.busy}
          onClick={() => answer.run('declined')}
        >
          Decline{unseen}
        </button>
      )}
    </>
  );
}
