import { type FormEvent, type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { api, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { Notice } from '../../parts/notice.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';

/** The token of a one-time link, from the whole link or the token alone; null: there is none in it. */
export function tokenIn(text: string): string | null {
  return /(?:^|\/sign-in\/)([A-Za-z0-9_-]{43})\/?$/.exec(text.trim())?.[1] ?? null;
}

/** The way in: a link by mail, or the one-time link that the server printed. */
export function SignInScreen({ ended }: { readonly ended: boolean }): ReactNode {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = 'Sign in · Dryspell';
    if (ended) heading.current?.focus();
  }, [ended]);
  return (
    <main id="main" className="door" tabIndex={-1}>
      <h1 ref={heading} tabIndex={-1}>
        Sign in to Dryspell
      </h1>
      {ended && (
        <Notice kind="warn">
          <p>Your session has ended. Sign in again; what you had saved is there.</p>
        </Notice>
      )}
      <LinkByMail />
      <LinkAtHand />
    </main>
  );
}

function LinkByMail(): ReactNode {
  const id = useId();
  const [email, setEmail] = useState('');
  const [answer, setAnswer] = useState<string | null>(null);
  const ask = useAction(async () => {
    setAnswer(null);
    setAnswer((await take(api.POST('/api/v1/sign-in-links', { body: { email: email.trim() } }))).message);
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    void ask.run();
  };
  return (
    <form onSubmit={submit}>
      <p className="lead">There is no password: a link comes by mail and works once.</p>
      <div className="field">
        <label htmlFor={id}>Your mail address</label>
        <input
          id={id}
          type="email"
          autoComplete="email"
          required
          maxLength={254}
          value={email}
          onChange={(event) => setEmail(event.target.value)}
        />
      </div>
      <button type="submit" className="button" disabled={ask.busy}>
        {ask.busy ? 'Asking …' : 'Mail me a link'}
      </button>
      <div role="status" className="answer">
        {answer && (
          <Notice kind="done">
            <p>{answer}</p>
            <p>If nothing comes, look among unwanted mail, or ask your operations manager.</p>
          </Notice>
        )}
      </div>
      <TroubleNotice trouble={ask.trouble} />
    </form>
  );
}

function LinkAtHand(): ReactNode {
  const id = useId();
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState(false);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const token = tokenIn(text);
    setWrong(token === null);
    if (token !== null) window.location.assign(`/sign-in/${token}`);
  };
  return (
    <form onSubmit={submit} noValidate>
      <h2>Or use a link that you have</h2>
      <div className="field">
        <label htmlFor={id}>One-time link</label>
        <p className="field-hint" id={`${id}-hint`}>
          The server prints one each time it is started.
        </p>
        <input
          id={id}
          type="text"
          autoComplete="off"
          spellCheck={false}
          value={text}
          aria-describedby={wrong ? `${id}-fault` : `${id}-hint`}
          aria-invalid={wrong}
          onChange={(event) => setText(event.target.value)}
        />
        {wrong && (
          <p className="field-fault" id={`${id}-fault`} role="alert">
            There is no sign-in link in this. Copy the whole line that begins with http.
          </p>
        )}
      </div>
      <button type="submit" className="button button-plain">
        Use this link
      </button>
    </form>
  );
}
