import { type ReactNode, useState } from 'react';
import { api, type Schema, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { usePages } from '../../api/use-pages.ts';
import { count } from '../../format/counts.ts';
import { zonedTime } from '../../format/times.ts';
import { Loading } from '../../parts/loading.tsx';
import { PagedList } from '../../parts/paged-list.tsx';
import { Said } from '../../parts/said.tsx';
import { State } from '../../parts/state.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { goTo, usePlace } from '../../route/route.tsx';
import { useSeason } from '../../shell/season-scope.tsx';
import { messageWords } from '../../words/message-words.ts';
import { stateWords } from '../../words/state-words.ts';
import { decideDelivery } from './decide.ts';

type Summary = Schema<'DeliverySummary'>;
const STATES = ['uncertain', 'failed', 'held', 'pending', 'sending', 'sent', 'cancelled'] as const;

/** Every message that publishing and reminders caused, with what became of it. */
export function MessagesScreen(): ReactNode {
  const { season } = useSeason();
  const { query } = usePlace();
  const key = season.row.key;
  const state = STATES.find((one) => one === query.get('state'));
  const [said, setSaid] = useState('');
  const pages = usePages(`deliveries ${key} ${state}`, (cursor, signal) =>
    take(api.GET('/api/v1/deliveries', { params: { query: { season: key, state, cursor } }, signal })),
  );
  const release = useAction(async () => {
    const { released } = await take(api.POST('/api/v1/deliveries/release-held'));
    setSaid(
      released === 0
        ? 'No held message has an address to go to.'
        : `${count(released, 'message')} will go out.`,
    );
    pages.reload();
  });
  const done = (words: string): void => {
    setSaid(words);
    pages.reload();
  };
  return (
    <>
      <h1>Messages</h1>
      <p className="lead">
        Held means not sent: no mail server is set, or no address is known. Uncertain means that the
        connection broke at the very end; it is never sent a second time by itself.
      </p>
      <div className="filters plain-face">
        <div className="field">
          <label htmlFor="message-state">State</label>
          <select
            id="message-state"
            value={state ?? ''}
            onChange={(event) =>
              goTo(
                event.target.value === '' ? '/messages' : `/messages?state=${event.target.value}`,
                'replace',
              )
            }
          >
            <option value="">All</option>
            {STATES.map((one) => (
              <option key={one} value={one}>
                {stateWords('delivery', one).words}
              </option>
            ))}
          </select>
        </div>
        <button type="button" className="button button-plain" disabled={pages.busy} onClick={pages.reload}>
          Look again
        </button>
        <button
          type="button"
          className="button button-plain"
          disabled={release.busy}
          onClick={() => release.run()}
        >
          Release all that are held
        </button>
      </div>
      <Said words={said} />
      <TroubleNotice trouble={release.trouble} />
      <PagedList
        pages={pages}
        one="message"
        none={<p>There are no messages{state ? ' in this state' : ' yet'}.</p>}
      >
        {(items) => (
          <ul className="todo-list">
            {items.map((delivery) => (
              <Message key={delivery.id} delivery={delivery} onDone={done} />
            ))}
          </ul>
        )}
      </PagedList>
    </>
  );
}

function Message({ delivery, onDone }: { delivery: Summary; onDone: (words: string) => void }): ReactNode {
  const { season, file } = useSeason();
  const [open, setOpen] = useState(false);
  const { kind, key } = delivery.recipient;
  const name = kind !== 'user' && file.data ? file.data.names.of(kind, key) : key;
  const about = `${messageWords(delivery.template)}, to ${name}`;
  const decide = useAction(async (as: 'send' | 'arrived' | 'cancel') => {
    onDone(await decideDelivery(delivery.id, delivery.state, as));
  });
  const { state } = delivery;
  const open_ = state === 'held' || state === 'failed' || state === 'uncertain';
  const button = (as: 'send' | 'arrived' | 'cancel', words: string): ReactNode => (
    <button
      type="button"
      className="button button-plain button-small"
      disabled={decide.busy}
      onClick={() => decide.run(as)}
    >
      {words}
      <span className="unseen">: {about}</span>
    </button>
  );
  return (
    <li>
      <p className="todo-head">
        {messageWords(delivery.template)} <State of="delivery" state={state} />
      </p>
      <p className="small">
        To {name} ({delivery.address ?? 'no address is known'}) by {delivery.channel}.{' '}
        {delivery.sentAt
          ? `Sent ${zonedTime(delivery.sentAt, season.row.zone)}.`
          : `Written ${zonedTime(delivery.createdAt, season.row.zone)}; not before ${zonedTime(delivery.notBefore, season.row.zone)}.`}
        {delivery.attempts > 0 && ` ${count(delivery.attempts, 'attempt')}.`}
      </p>
      {delivery.lastFault && <p className="small">Reason: {delivery.lastFault}</p>}
      <div className="row-of-buttons">
        <button
          type="button"
          className="button button-plain button-small"
          aria-expanded={open}
          onClick={() => setOpen(!open)}
        >
          {open ? 'Close the text' : 'See the text'}
          <span className="unseen">: {about}</span>
        </button>
        {open_ && button('send', state === 'held' ? 'Release' : 'Send again')}
        {state === 'uncertain' && button('arrived', 'It arrived')}
        {open_ && button('cancel', 'Do not send')}
      </div>
      <TroubleNotice trouble={decide.trouble} />
      {open && <MessageText deliveryId={delivery.id} />}
    </li>
  );
}

function MessageText({ deliveryId }: { deliveryId: string }): ReactNode {
  const message = useLoaded(`delivery ${deliveryId}`, (signal) =>
    take(api.GET('/api/v1/deliveries/{deliveryId}', { params: { path: { deliveryId } }, signal })),
  );
  return (
    <Loading from={message} what="the text">
      {({ subject, body, language }) =>
        body === null ? (
          <p className="muted">
            It has no text yet: a message is written at the moment of sending, with the facts of then.
          </p>
        ) : (
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a long text scrolls, also by keyboard
          <section className="message-preview" aria-label="Text of the message" tabIndex={0} lang={language}>
            <p>
              <strong>{subject}</strong>
            </p>
            {body}
          </section>
        )
      }
    </Loading>
  );
}
