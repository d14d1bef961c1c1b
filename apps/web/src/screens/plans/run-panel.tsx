import { type ReactNode, useId } from 'react';
import { api, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { Notice } from '../../parts/notice.tsx';
import { State } from '../../parts/state.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { Link } from '../../route/route.tsx';
import { useSeason } from '../../shell/season-scope.tsx';
import { money } from '../../words/money.ts';
import { faultWords, isUnderWay, type PlanRun, progressOf, refusalWords } from './run-facts.ts';
import { useRun } from './use-run.ts';

interface Props {
  readonly first: PlanRun;
  readonly onEnded: (run: PlanRun) => void;
}

/** A planning run as it goes: how far, how good the best plan is so far, and a way to stop it. */
export function RunPanel({ first, onEnded }: Props): ReactNode {
  const { season, file } = useSeason();
  const id = useId();
  const { run, live } = useRun(season.row.key, first, onEnded);
  const stop = useAction(async () => {
    await take(
      api.POST('/api/v1/seasons/{season}/plan-runs/{runId}/stop', {
        params: { path: { season: season.row.key, runId: run.id } },
      }),
    );
  });
  const { currency } = season.row;
  const { fraction, bestCents, iterations } = progressOf(run);
  const underWay = isUnderWay(run);
  const best = bestCents === null ? null : money(bestCents, currency);
  const refusal = file.data ? refusalWords(run, file.data.names, currency) : [];
  return (
    <section className="plan-card" aria-labelledby={id}>
      <h3 id={id}>
        Planning run <State of="run" state={run.state} />
      </h3>
      {underWay && (
        <>
          <progress
            aria-label="How much of the time is used"
            max={1}
            {...(fraction === null ? {} : { value: Math.min(1, fraction) })}
          />
          <p className="plain-face">
            {run.state === 'queued'
              ? 'It waits for a planner.'
              : `${best ? `Best so far: ${best}` : 'No plan yet'}.`}
            {iterations !== null && ` ${iterations.toLocaleString('en-CA')} steps.`}
            {!live && ' Not live at the moment; the page asks every few seconds.'}
          </p>
          <button
            type="button"
            className="button button-plain"
            disabled={stop.busy || run.stopRequested}
            onClick={() => stop.run()}
          >
            {run.stopRequested ? 'Stopping …' : 'Stop and keep the best so far'}
          </button>
          <TroubleNotice trouble={stop.trouble} />
        </>
      )}
      <p className="unseen" role="status">
        {spokenProgress(run, fraction, best)}
      </p>
      {run.planId && (
        <p>
          <Link to={`/plans/${run.planId}`} className="button">
            See the draft
          </Link>
        </p>
      )}
      {!underWay && !run.planId && run.state !== 'failed' && (
        <Notice kind="warn">
          <p>It came to no plan.</p>
          {refusal.length > 0 && (
            <ul className="tight">
              {refusal.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          )}
          <p>Next: take out a pin or move the frozen days, then plan again.</p>
        </Notice>
      )}
      {run.state === 'failed' && (
        <Notice kind="warn">
          <p>The run failed: {faultWords(run) ?? 'the server gave no reason'}.</p>
          <p>Next: plan again; if it fails again, tell whoever runs the server.</p>
        </Notice>
      )}
    </section>
  );
}

/** Said aloud at each quarter, not at each step: a voice that never stops helps nobody. */
function spokenProgress(run: PlanRun, fraction: number | null, best: string | null): string {
  if (run.state === 'queued') return 'The planning run waits.';
  if (run.state === 'running') {
    const quarter = Math.floor((fraction ?? 0) * 4) * 25;
    return `Planning: ${quarter} percent${quarter > 0 && best ? ' and a plan is there' : ''}.`;
  }
  return run.planId ? 'Planning has ended; the draft is ready.' : 'Planning has ended without a plan.';
}
