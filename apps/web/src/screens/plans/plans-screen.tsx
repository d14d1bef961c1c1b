import { type ReactNode, useState } from 'react';
import { api, type Schema, take } from '../../api/client.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { usePages } from '../../api/use-pages.ts';
import { zonedTime } from '../../format/times.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { PagedList } from '../../parts/paged-list.tsx';
import { State } from '../../parts/state.tsx';
import { Link } from '../../route/route.tsx';
import { useSeason } from '../../shell/season-scope.tsx';
import { money } from '../../words/money.ts';
import { PlanForm } from './plan-form.tsx';
import { isUnderWay, type PlanRun } from './run-facts.ts';
import { RunPanel } from './run-panel.tsx';

type PlanInfo = Schema<'PlanInfo'>;

/** Planning runs as they go, and all plans of the season. */
export function PlansScreen(): ReactNode {
  const { season } = useSeason();
  const key = season.row.key;
  const [started, setStarted] = useState<readonly PlanRun[]>([]);
  const plans = usePages(`plans ${key}`, (cursor, signal) =>
    take(
      api.GET('/api/v1/seasons/{season}/plans', {
        params: { path: { season: key }, query: { cursor } },
        signal,
      }),
    ),
  );
  // Runs that somebody else has started, or that go on since this page was left.
  const running = useLoaded(`runs ${key}`, async (signal) => {
    const { items } = await take(
      api.GET('/api/v1/seasons/{season}/plan-runs', {
        params: { path: { season: key }, query: { limit: 20 } },
        signal,
      }),
    );
    return items.filter(isUnderWay);
  });
  const known = new Set(started.map((run) => run.id));
  const runs = [...started, ...(running.data ?? []).filter((run) => !known.has(run.id))];
  return (
    <>
      <h1>Plans</h1>
      <PlanForm season={key} onStarted={(run) => setStarted((old) => [run, ...old])} />
      <Loading from={running} what="planning runs">
        {() => null}
      </Loading>
      {runs.map((run) => (
        <RunPanel key={run.id} first={run} onEnded={plans.reload} />
      ))}
      <h2>All plans</h2>
      <PagedList pages={plans} one="plan" none={<p>There is no plan of this season yet.</p>}>
        {(items) => <PlanTable items={items} currency={season.row.currency} zone={season.row.zone} />}
      </PagedList>
      <Caution about={['wind', 'driving']} />
    </>
  );
}

interface TableProps {
  readonly items: readonly PlanInfo[];
  readonly currency: string;
  readonly zone: string;
}

function PlanTable({ items, currency, zone }: TableProps): ReactNode {
  return (
    <div className="scroll-x">
      <table className="cards">
        <caption className="unseen">Plans, the newest first</caption>
        <thead>
          <tr>
            <th scope="col">Plan</th>
            <th scope="col">State</th>
            <th scope="col" className="number">
              Total
            </th>
            <th scope="col" className="number">
              No valid plan below
            </th>
            <th scope="col">Seed</th>
            <th scope="col">Made</th>
            <th scope="col">Published</th>
          </tr>
        </thead>
        <tbody>
          {items.map((plan) => (
            <tr key={plan.id}>
              <th scope="row">
                <Link to={`/plans/${plan.id}`}>
                  No. {plan.number}
                  {plan.title && `: ${plan.title}`}
                </Link>
              </th>
              <td data-head="State">
                <State of="plan" state={plan.status} />
              </td>
              <td data-head="Total" className="number">
                {money(plan.totalCents, currency)}
              </td>
              <td data-head="No valid plan below" className="number">
                {plan.boundCents === null ? 'not proved' : money(plan.boundCents, currency)}
              </td>
              <td data-head="Seed">{plan.seed}</td>
              <td data-head="Made">{zonedTime(plan.createdAt, zone)}</td>
              <td data-head="Published">{plan.publishedAt ? zonedTime(plan.publishedAt, zone) : 'no'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
