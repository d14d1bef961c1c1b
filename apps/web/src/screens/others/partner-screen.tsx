import { type ReactNode, useState } from 'react';
import { api, freshKey, type Schema, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { spanWords } from '../../format/dates.ts';
import { AnswerButtons } from '../../parts/answer-buttons.tsx';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Said } from '../../parts/said.tsx';
import { State } from '../../parts/state.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';

type Request = Schema<'PartnerRequest'>;

/** What is asked of a partner: lifts and deliveries, to confirm or decline. */
export function PartnerScreen(): ReactNode {
  const [said, setSaid] = useState('');
  const requests = useLoaded('my requests', (signal) => take(api.GET('/api/v1/my/requests', { signal })));
  const done = (words: string): void => {
    setSaid(words);
    requests.reload();
  };
  return (
    <>
      <h1>What is asked of us</h1>
      <Said words={said} />
      <Loading from={requests} what="the requests">
        {({ items }) =>
          items.length === 0 ? (
            <p>Nothing is asked of you now. A message comes when that changes.</p>
          ) : (
            <ul className="todo-list">
              {items.map((request) => (
                <RequestItem key={request.id} request={request} onDone={done} />
              ))}
            </ul>
          )
        }
      </Loading>
      <Caution about={['lifting', 'wind']} />
    </>
  );
}

function RequestItem({ request, onDone }: { request: Request; onDone: (words: string) => void }): ReactNode {
  const answer = useAction(async (given: 'accepted' | 'declined') => {
    await take(
      api.POST('/api/v1/requests/{kind}/{requestId}/answer', {
        params: {
          path: { kind: request.kind, requestId: request.id },
          header: { 'Idempotency-Key': freshKey() },
        },
        body: { answer: given, proposedDay: null, reference: null, note: null },
      }),
    );
    onDone(`${given === 'accepted' ? 'Confirmed' : 'Declined'}: ${request.what}.`);
  });
  return (
    <li>
      <h2 className="first-head">{request.what}</h2>
      <p>
        <State of="hold" state={request.state} />
      </p>
      <p>
        {spanWords(request.fromDay, request.toDay)} at {request.site.name},{' '}
        {request.site.address ?? 'no address is known'} ({request.site.lat}, {request.site.lon})
      </p>
      <p className="small">For another day, use the link in the message that asked for it.</p>
      <div className="row-of-buttons">
        <AnswerButtons
          answer={answer}
          about={request.what}
          yes="Confirm"
          given={request.state === 'confirmed' ? 'yes' : request.state === 'declined' ? 'no' : null}
        />
      </div>
      <TroubleNotice trouble={answer.trouble} />
    </li>
  );
}
