import { type ReactNode, useState } from 'react';
import { api, freshKey, type Schema, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { Link } from '../../route/route.tsx';
import { JudgeItems } from '../jobs/judge-items.tsx';
import { decideDelivery } from '../messages/decide.ts';

type Item = Schema<'WhatNextItem'>;

interface Props {
  readonly item: Item;
  readonly onDone: (words: string) => void;
}

/** What can be done about a waiting thing, where it stands. */
export function NextAction({ item, onDone }: Props): ReactNode {
  switch (item.subjectKind) {
    case 'assignment':
      return <HeardAnswer item={item} onDone={onDone} />;
    case 'liftHold':
    case 'deliveryRun':
      return <HeardFromPartner item={item} kind={item.subjectKind} onDone={onDone} />;
    case 'readinessItem':
      return <JudgeHere item={item} onDone={onDone} />;
    case 'delivery':
      return <DecideMessage item={item} onDone={onDone} />;
    case 'visit':
      return (
        <p>
          <Link to={`/briefs/${encodeURIComponent(item.subjectId)}`}>
            Read the brief<span className="unseen">: {item.title}</span>
          </Link>
        </p>
      );
    case 'planRun':
    case 'plan':
      return (
        <p>
          <Link to="/plans">See the plans</Link>
        </p>
      );
    default:
      return null;
  }
}

function HeardAnswer({ item, onDone }: Props): ReactNode {
  const answer = useAction(async (heard: 'accepted' | 'declined') => {
    await take(
      api.POST('/api/v1/assignments/{assignmentId}/answer', {
        params: { path: { assignmentId: item.subjectId }, header: { 'Idempotency-Key': freshKey() } },
        body: { answer: heard, note: 'Heard by the manager' },
      }),
    );
    onDone(`Noted as ${heard}: ${item.title}`);
  });
  return (
    <>
      <div className="row-of-buttons">
        <Deed
          words="Heard: accepted"
          about={item.title}
          busy={answer.busy}
          onClick={() => answer.run('accepted')}
        />
        {item.kind !== 'assignment-declined' && (
          <Deed
            words="Heard: declined"
            about={item.title}
            busy={answer.busy}
            onClick={() => answer.run('declined')}
          />
        )}
        {item.kind === 'assignment-declined' && <Link to="/plans">Plan again without this person</Link>}
      </div>
      <TroubleNotice trouble={answer.trouble} />
    </>
  );
}

function HeardFromPartner({ item, kind, onDone }: Props & { kind: 'liftHold' | 'deliveryRun' }): ReactNode {
  const answer = useAction(async (heard: 'accepted' | 'declined') => {
    await take(
      api.POST('/api/v1/requests/{kind}/{requestId}/answer', {
        params: { path: { kind, requestId: item.subjectId }, header: { 'Idempotency-Key': freshKey() } },
        body: { answer: heard, proposedDay: null, reference: null, note: 'Heard by the manager' },
      }),
    );
    onDone(`Noted as ${heard === 'accepted' ? 'confirmed' : 'declined'}: ${item.title}`);
  });
  return (
    <>
      <div className="row-of-buttons">
        <Deed
          words="Heard: confirmed"
          about={item.title}
          busy={answer.busy}
          onClick={() => answer.run('accepted')}
        />
        {item.kind !== 'lift-declined' && (
          <Deed
            words="Heard: declined"
            about={item.title}
            busy={answer.busy}
            onClick={() => answer.run('declined')}
          />
        )}
        {item.kind === 'lift-declined' && <Link to="/plans">Plan again</Link>}
      </div>
      <TroubleNotice trouble={answer.trouble} />
    </>
  );
}

function JudgeHere({ item, onDone }: Props): ReactNode {
  const [open, setOpen] = useState(false);
  if (item.job === null) return null;
  return (
    <>
      <div className="row-of-buttons">
        <button
          type="button"
          className="button button-plain button-small"
          aria-expanded={open}
          onClick={() => setOpen(!open)}
        >
          {open ? 'Close' : 'Look at it'}
          <span className="unseen">: {item.title}</span>
        </button>
      </div>
      {open && <JudgeItems job={item.job} only={item.title} onDone={onDone} />}
    </>
  );
}

function DecideMessage({ item, onDone }: Props): ReactNode {
  const state = item.kind.replace('message-', '');
  const decide = useAction(async (as: 'send' | 'arrived' | 'cancel') => {
    onDone(await decideDelivery(item.subjectId, state, as));
  });
  return (
    <>
      <div className="row-of-buttons">
        <Deed
          words={state === 'held' ? 'Release' : 'Send again'}
          about={item.title}
          busy={decide.busy}
          onClick={() => decide.run('send')}
        />
        {state === 'uncertain' && (
          <Deed
            words="It arrived"
            about={item.title}
            busy={decide.busy}
            onClick={() => decide.run('arrived')}
          />
        )}
        <Deed
          words="Do not send"
          about={item.title}
          busy={decide.busy}
          onClick={() => decide.run('cancel')}
        />
      </div>
      <TroubleNotice trouble={decide.trouble} />
    </>
  );
}

interface DeedProps {
  readonly words: string;
  readonly about: string;
  readonly busy: boolean;
  readonly onClick: () => void;
}

/** A button whose name for those who only hear it also says what it is about. */
function Deed({ words, about, busy, onClick }: DeedProps): ReactNode {
  return (
    <button type="button" className="button button-plain button-small" disabled={busy} onClick={onClick}>
      {words}
      <span className="unseen">: {about}</span>
    </button>
  );
}
