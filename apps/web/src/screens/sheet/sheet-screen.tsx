import { type ReactNode, useMemo, useRef, useState } from 'react';
import { api, type Schema, take } from '../../api/client.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { allPages } from '../../api/use-pages.ts';
import { count } from '../../format/counts.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { goTo, Link, usePlace } from '../../route/route.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';
import { stateWords } from '../../words/state-words.ts';
import { newestDraft } from '../plans/newest-draft.ts';
import { buildSheet } from './build-model.ts';
import { SeasonSheet, SheetLegend } from './season-sheet.tsx';
import { SheetList } from './sheet-list.tsx';
import { VisitPanel } from './visit-panel.tsx';

type Plan = Schema<'Plan'>;
type PlanInfo = Schema<'PlanInfo'>;

interface Shown {
  readonly plans: readonly PlanInfo[];
  readonly plan: Plan | null;
  /** Published visits by job; empty for a draft. */
  readonly visitIds: ReadonlyMap<string, string>;
}

/** The season sheet: the plan that was chosen, else the published one, else the newest draft. */
export function SheetScreen(): ReactNode {
  const { season, file } = useSeason();
  const { query } = usePlace();
  const key = season.row.key;
  const wanted = query.get('plan');
  const shown = useLoaded(`sheet ${key} ${wanted}`, (signal) => loadShown(key, wanted, signal));
  return (
    <>
      <h1>Season sheet</h1>
      <Loading from={file} what="the season">
        {(data) => (
          <Loading from={shown} what="the plan">
            {(loaded) => <Sheet season={key} data={data} shown={loaded} />}
          </Loading>
        )}
      </Loading>
    </>
  );
}

async function loadShown(season: string, wanted: string | null, signal: AbortSignal): Promise<Shown> {
  const plans = await allPages((cursor) =>
    take(
      api.GET('/api/v1/seasons/{season}/plans', {
        params: { path: { season }, query: { limit: 200, cursor } },
        signal,
      }),
    ),
  );
  const chosen =
    plans.find((plan) => plan.id === wanted) ??
    plans.find((plan) => plan.status === 'published') ??
    newestDraft(plans);
  if (!chosen) return { plans, plan: null, visitIds: new Map() };
  const path = { season, planId: chosen.id };
  const plan = await take(api.GET('/api/v1/seasons/{season}/plans/{planId}', { params: { path }, signal }));
  if (plan.status !== 'published') return { plans, plan, visitIds: new Map() };
  const visits = await allPages((cursor) =>
    take(api.GET('/api/v1/visits', { params: { query: { season, limit: 200, cursor } }, signal })),
  );
  return { plans, plan, visitIds: new Map(visits.map((visit) => [visit.job, visit.id])) };
}

const narrow = (): boolean => window.matchMedia('(max-width: 46rem)').matches;

function Sheet({ season, data, shown }: { season: string; data: SeasonData; shown: Shown }): ReactNode {
  const { plan, plans } = shown;
  const { query } = usePlace();
  const [view, setView] = useState<'sheet' | 'list'>(() => (narrow() ? 'list' : 'sheet'));
  const [text, setText] = useState('');
  const jobKey = query.get('job');
  const opener = useRef<HTMLElement | null>(null);
  const model = useMemo(() => buildSheet(data.file, data.names, plan), [data, plan]);
  const filtered = useMemo(() => {
    const wanted = text.trim().toLowerCase();
    const matches = (words: string) => words.toLowerCase().includes(wanted);
    return {
      ...model,
      sites: model.sites.filter(
        (site) =>
          site.jobs.length > 0 &&
          (matches(site.name) ||
            site.jobs.some((job) => matches(job.title) || matches(job.visit?.crewName ?? ''))),
      ),
    };
  }, [model, text]);
  const found = model.sites
    .flatMap((site) => site.jobs.map((job) => ({ site, job })))
    .find(({ job }) => job.key === jobKey);
  const go = (changes: Record<string, string | null>): void => {
    const next = new URLSearchParams(query);
    for (const [name, value] of Object.entries(changes)) {
      if (value === null) next.delete(name);
      else next.set(name, value);
    }
    goTo(next.size > 0 ? `/sheet?${next}` : '/sheet', 'replace');
  };
  const choose = (job: string): void => {
    opener.current = document.activeElement as HTMLElement | null;
    go({ job });
  };
  const close = (): void => {
    go({ job: null });
    opener.current?.focus();
  };
  const notPlanned = model.sites.flatMap((site) => site.jobs).filter((job) => !job.visit).length;
  return (
    <>
      <div className="filters plain-face">
        <div className="field">
          <label htmlFor="sheet-plan">Plan</label>
          <select
            id="sheet-plan"
            value={plan?.id ?? ''}
            onChange={(event) => go({ plan: event.target.value })}
          >
            {plan === null && <option value="">none is published</option>}
            {plans
              .filter((one) => one.status !== 'discarded' || one.id === plan?.id)
              .map((one) => (
                <option key={one.id} value={one.id}>
                  No. {one.number}, {stateWords('plan', one.status).words}
                  {one.title ? `: ${one.title}` : ''}
                </option>
              ))}
          </select>
        </div>
        <div className="field">
          <label htmlFor="sheet-search">Find a site, a job or a crew</label>
          <input
            id="sheet-search"
            type="search"
            value={text}
            onChange={(event) => setText(event.target.value)}
          />
        </div>
        <fieldset className="view-choice">
          <legend>Show as</legend>
          <label className="choice">
            <input type="radio" name="view" checked={view === 'sheet'} onChange={() => setView('sheet')} />
            Sheet
          </label>
          <label className="choice">
            <input type="radio" name="view" checked={view === 'list'} onChange={() => setView('list')} />
            List
          </label>
        </fieldset>
      </div>
      {plan === null && (
        <Notice kind="info">
          <p>
            No plan is published. The sheet shows what is known before planning.{' '}
            <Link to="/plans">Plan the season</Link>
          </p>
        </Notice>
      )}
      {plan?.status === 'draft' && (
        <Notice kind="warn">
          <p>
            This is a draft: nobody has been told of it.{' '}
            <Link to={`/plans/${plan.id}`}>See what it would change</Link>
          </p>
        </Notice>
      )}
      <p className="small muted" role="status">
        {count(filtered.sites.length, 'site')}
        {plan !== null && `; ${count(plan.visits.length, 'visit')}, ${count(notPlanned, 'job')} not planned`}.
      </p>
      {view === 'sheet' && <SheetLegend />}
      <div className={found ? 'sheet-with-panel sheet-with-panel-open' : 'sheet-with-panel'}>
        {view === 'sheet' ? (
          <SeasonSheet model={filtered} chosenJob={jobKey} onChoose={choose} />
        ) : (
          <SheetList model={filtered} chosenJob={jobKey} onChoose={choose} />
        )}
        {found && (
          <VisitPanel
            model={model}
            site={found.site}
            job={found.job}
            season={season}
            visitId={shown.visitIds.get(found.job.key) ?? null}
            onClose={close}
          />
        )}
      </div>
      {!found && <Caution about={['lifting', 'wind', 'driving']} />}
    </>
  );
}
