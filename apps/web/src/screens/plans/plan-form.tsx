import { type FormEvent, type ReactNode, useId, useState } from 'react';
import { api, freshKey, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import type { PlanRun } from './run-facts.ts';

interface Props {
  readonly season: string;
  readonly onStarted: (run: PlanRun) => void;
}

/** "Plan the season": how long, and if wanted which seed. */
export function PlanForm({ season, onStarted }: Props): ReactNode {
  const id = useId();
  const [seconds, setSeconds] = useState('20');
  const [seed, setSeed] = useState('');
  const [title, setTitle] = useState('');
  const start = useAction(async () => {
    const body = {
      seconds: Number(seconds),
      ...(seed.trim() === '' ? {} : { seed: Number(seed) }),
      ...(title.trim() === '' ? {} : { title: title.trim() }),
    };
    const run = await take(
      api.POST('/api/v1/seasons/{season}/plan-runs', {
        params: { path: { season }, header: { 'Idempotency-Key': freshKey() } },
        body,
      }),
    );
    onStarted(run);
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    void start.run();
  };
  return (
    <form onSubmit={submit} className="plan-card">
      <h2 className="first-head">Plan the season</h2>
      <p>
        The program looks for the cheapest plan that keeps every rule. Longer is often better; it makes a
        draft and tells nobody.
      </p>
      <div className="filters">
        <div className="field">
          <label htmlFor={`${id}-seconds`}>Seconds</label>
          <input
            id={`${id}-seconds`}
            type="number"
            inputMode="numeric"
            required
            min={1}
            max={86400}
            step={1}
            value={seconds}
            onChange={(event) => setSeconds(event.target.value)}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-seed`}>Seed (may be empty)</label>
          <input
            id={`${id}-seed`}
            type="number"
            inputMode="numeric"
            min={0}
            max={4294967295}
            step={1}
            value={seed}
            aria-describedby={`${id}-seed-hint`}
            onChange={(event) => setSeed(event.target.value)}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-title`}>Title of the draft (may be empty)</label>
          <input
            id={`${id}-title`}
            type="text"
            maxLength={200}
            value={title}
            onChange={(event) => setTitle(event.target.value)}
          />
        </div>
        <button type="submit" className="button" disabled={start.busy}>
          {start.busy ? 'Starting …' : 'Plan the season'}
        </button>
      </div>
      <p className="field-hint" id={`${id}-seed-hint`}>
        The seed is the number that the search begins from; another one may find another plan.
      </p>
      <TroubleNotice trouble={start.trouble} />
    </form>
  );
}
