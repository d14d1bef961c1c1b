import { type ReactNode, useState } from 'react';
import { api, ifMatch, type Schema, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { count } from '../../format/counts.ts';
import { zonedTime } from '../../format/times.ts';
import { Caution } from '../../parts/caution.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { State } from '../../parts/state.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import { goTo, Link } from '../../route/route.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';
import { money } from '../../words/money.ts';
import { bindingWords } from '../../words/plan-words.ts';
import { concernedBy } from './concerned.ts';
import { CostTable } from './cost-table.tsx';
import { DifferenceView } from './difference-view.tsx';
import { ConcernedList, PublishDialog, type PublishReport } from './publish-dialog.tsx';

type Plan = Schema<'Plan'>;

interface Loaded {
  readonly plan: Plan;
  readonly before: Plan | null;
  readonly difference: Schema<'PlanDifference'>;
}

/** One plan: what it costs, what it changes, who must be told; publish it or put it away. */
export function PlanScreen({ planId }: { readonly planId: string }): ReactNode {
  const { season, file, refresh } = useSeason();
  const key = season.row.key;
  const [report, setReport] = useState<PublishReport | null>(null);
  const loaded = useLoaded(`plan ${key} ${planId}`, (signal) => loadPlan(key, planId, signal));
  const published = (done: PublishReport): void => {
    setReport(done);
    loaded.reload();
    refresh();
  };
  return (
    <>
      <p className="small">
        <Link to="/plans">← All plans</Link>
      </p>
      <Loading from={loaded} what="the plan">
        {(data) => (
          <Loading from={file} what="the season">
            {(season_) => (
              <PlanView
                data={data}
                season={season_}
                report={report}
                onPublished={published}
                reload={loaded.reload}
              />
            )}
          </Loading>
        )}
      </Loading>
    </>
  );
}

async function loadPlan(season: string, planId: string, signal: AbortSignal): Promise<Loaded> {
  const get = (id: string) =>
    take(
      api.GET('/api/v1/seasons/{season}/plans/{planId}', {
        params: { path: { season, planId: id } },
        signal,
      }),
    );
  const [plan, difference] = await Promise.all([
    get(planId),
    take(
      api.GET('/api/v1/seasons/{season}/plans/{planId}/difference', {
        params: { path: { season, planId } },
        signal,
      }),
    ),
  ]);
  const before = difference.fromPlanId === null ? null : await get(difference.fromPlanId);
  return { plan, before, difference };
}

interface ViewProps {
  readonly data: Loaded;
  readonly season: SeasonData;
  readonly report: PublishReport | null;
  readonly onPublished: (report: PublishReport) => void;
  readonly reload: () => void;
}

function PlanView({ data, season, report, onPublished, reload }: ViewProps): ReactNode {
  const scope = useSeason();
  const { plan, before, difference } = data;
  const { names, file } = season;
  const { currency } = plan;
  const draft = plan.status === 'draft';
  const concerned = concernedBy(file, before, plan);
  return (
    <>
      <h1>
        Plan no. {plan.number}
        {plan.title && `: ${plan.title}`} <State of="plan" state={plan.status} />
      </h1>
      <div role="status">{report && <ReportNotice report={report} />}</div>
      <p className="big-number">{money(plan.totalCents, currency)}</p>
      <p className="small muted">
        {plan.boundCents === null
          ? 'How much cheaper a plan could be at most was not proved.'
          : `No valid plan can cost less than ${money(plan.boundCents, currency)}.`}{' '}
        Made {zonedTime(plan.createdAt, scope.season.row.zone)} with seed {plan.seed} in{' '}
        {plan.iterations.toLocaleString('en-CA')} steps. {count(plan.visits.length, 'visit')}.
      </p>
      {plan.seasonChangesSince > 0 && draft && (
        <Notice kind="warn">
          <p>
            {count(plan.seasonChangesSince, 'row')} of the season changed after this plan was made. It was not
            checked against them; plan again to be sure.
          </p>
        </Notice>
      )}
      <div className="row-of-buttons">
        <Link to={`/sheet?plan=${plan.id}`} className="button button-plain">
          See it on the season sheet
        </Link>
        {draft && <DraftDeeds data={data} season={season} onPublished={onPublished} reload={reload} />}
      </div>
      <div className="two-columns">
        <div>
          <DifferenceView difference={difference} currency={currency} names={names} published={!draft} />
          {draft && (
            <>
              <h2>Who must be told</h2>
              <ConcernedList concerned={concerned} />
            </>
          )}
        </div>
        <div>
          <h2>Cost</h2>
          <CostTable lines={plan.costLines} totalCents={plan.totalCents} currency={currency} names={names} />
          {plan.notPlanned.length > 0 && (
            <>
              <h2>Not planned: {plan.notPlanned.length}</h2>
              <ul className="tight">
                {plan.notPlanned.map((entry) => (
                  <li key={entry.job}>
                    <strong>{names.of('job', entry.job)}</strong>
                    <ul className="tight">
                      {entry.bindings.map((binding) => (
                        <li key={binding.kind}>{bindingWords(binding, names, currency)}</li>
                      ))}
                    </ul>
                  </li>
                ))}
              </ul>
            </>
          )}
        </div>
      </div>
      <Caution about={['lifting', 'wind', 'driving']} />
    </>
  );
}

function DraftDeeds({ data, season, onPublished, reload }: Omit<ViewProps, 'report'>): ReactNode {
  const scope = useSeason();
  const { plan, before } = data;
  const [asking, setAsking] = useState<'publish' | 'discard' | null>(null);
  const path = { season: scope.season.row.key, planId: plan.id };
  const discard = useAction(async () => {
    await take(
      api.POST('/api/v1/seasons/{season}/plans/{planId}/discard', {
        params: { path, header: ifMatch(plan.version) },
      }),
    );
    goTo('/plans');
  });
  return (
    <>
      <button type="button" className="button" onClick={() => setAsking('publish')}>
        Publish …
      </button>
      <button type="button" className="button button-plain" onClick={() => setAsking('discard')}>
        Put away …
      </button>
      {asking === 'publish' && (
        <PublishDialog
          plan={plan}
          season={path.season}
          concerned={concernedBy(season.file, before, plan)}
          onPublished={(report) => {
            setAsking(null);
            onPublished(report);
          }}
          onClose={() => {
            setAsking(null);
            reload();
          }}
        />
      )}
      {asking === 'discard' && (
        <Dialog title={`Put plan no. ${plan.number} away?`} onClose={() => setAsking(null)}>
          <p>It stays in the list for the record but can no longer be published. Nobody is told.</p>
          <TroubleNotice trouble={discard.trouble} />
          <div className="row-of-buttons">
            <button
              type="button"
              className="button button-grave"
              disabled={discard.busy}
              onClick={() => discard.run()}
            >
              Put it away
            </button>
            <button type="button" className="button button-plain" onClick={() => setAsking(null)}>
              Keep it
            </button>
          </div>
        </Dialog>
      )}
    </>
  );
}

function ReportNotice({ report }: { report: PublishReport }): ReactNode {
  const { visits, deliveries, reminders } = report;
  return (
    <Notice kind="done">
      <p>
        Published: {count(visits.added, 'visit')} added, {visits.changed} changed, {visits.cancelled} called
        off, {visits.unchanged} as they were. {count(deliveries, 'message')} written,{' '}
        {count(reminders, 'reminder')} wait.
      </p>
      <p>
        Whether they leave depends on the mail server: <Link to="/messages">see what became of them</Link>.
      </p>
    </Notice>
  );
}
