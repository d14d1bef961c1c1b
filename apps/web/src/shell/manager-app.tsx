import type { ReactNode } from 'react';
import { Loading } from '../parts/loading.tsx';
import { usePlace } from '../route/route.tsx';
import { BriefScreen } from '../screens/brief/brief-screen.tsx';
import { JobScreen } from '../screens/jobs/job-screen.tsx';
import { JobsScreen } from '../screens/jobs/jobs-screen.tsx';
import { MessagesScreen } from '../screens/messages/messages-screen.tsx';
import { NextScreen } from '../screens/next/next-screen.tsx';
import { PeopleScreen } from '../screens/people/people-screen.tsx';
import { PlanScreen } from '../screens/plans/plan-screen.tsx';
import { PlansScreen } from '../screens/plans/plans-screen.tsx';
import { SeasonFileScreen } from '../screens/season-file/season-file-screen.tsx';
import { SheetScreen } from '../screens/sheet/sheet-screen.tsx';
import { SitesScreen } from '../screens/sites/sites-screen.tsx';
import { OddsScreen } from '../screens/weather/odds-screen.tsx';
import { WeatherScreen } from '../screens/weather/weather-screen.tsx';
import { Masthead } from './masthead.tsx';
import { SeasonProvider, type SeasonScope } from './season-scope.tsx';
import type { Me, SessionControl } from './session.ts';

interface Props {
  readonly me: Me;
  readonly control: SessionControl;
  readonly navigation: ReactNode;
}

/** The program as the operations manager has it: one season in view, all screens. */
export function ManagerApp({ me, control, navigation }: Props): ReactNode {
  return (
    <SeasonProvider
      waiting={(seasons) => (
        <>
          <Masthead me={me} control={control} />
          <main id="main" className="page" tabIndex={-1}>
            <Loading from={seasons} what="the seasons">
              {() => null}
            </Loading>
          </main>
        </>
      )}
      empty={(refresh) => (
        <>
          <Masthead me={me} control={control} />
          <main id="main" className="page" tabIndex={-1}>
            <p className="lead">There is no season yet. Read one from a season file to begin.</p>
            <SeasonFileScreen season={null} onImported={refresh} />
          </main>
        </>
      )}
    >
      {(scope) => (
        <>
          <Masthead me={me} control={control}>
            <SeasonChoice scope={scope} />
          </Masthead>
          {navigation}
          <Screen scope={scope} />
        </>
      )}
    </SeasonProvider>
  );
}

function SeasonChoice({ scope }: { scope: SeasonScope }): ReactNode {
  if (scope.seasons.length === 1) return <span className="masthead-season">{scope.season.row.name}</span>;
  return (
    <label>
      Season
      <select value={scope.season.row.key} onChange={(event) => scope.choose(event.target.value)}>
        {scope.seasons.map(({ row }) => (
          <option key={row.key} value={row.key}>
            {row.name}
          </option>
        ))}
      </select>
    </label>
  );
}

function Screen({ scope }: { scope: SeasonScope }): ReactNode {
  const { path } = usePlace();
  const [, screen, item] = path.split('/');
  // A screen starts afresh in another season: nothing of the one before stays on it.
  const key = scope.season.row.key;
  return (
    <main id="main" className={screen === 'sheet' ? 'page page-wide' : 'page'} tabIndex={-1} key={key}>
      {screenOf(screen ?? '', item, scope)}
    </main>
  );
}

function screenOf(screen: string, item: string | undefined, scope: SeasonScope): ReactNode {
  switch (screen) {
    case '':
      return <NextScreen />;
    case 'sheet':
      return <SheetScreen />;
    case 'plans':
      return item ? <PlanScreen planId={item} key={item} /> : <PlansScreen />;
    case 'messages':
      return <MessagesScreen />;
    case 'jobs':
      return item ? <JobScreen jobKey={decodeURIComponent(item)} key={item} /> : <JobsScreen />;
    case 'sites':
      return <SitesScreen />;
    case 'weather':
      return item === 'odds' ? <OddsScreen /> : <WeatherScreen />;
    case 'briefs':
      return item ? <BriefScreen visitId={decodeURIComponent(item)} key={item} /> : noSuchScreen();
    case 'people':
      return <PeopleScreen />;
    case 'season-file':
      return <SeasonFileScreen season={scope.season.row} onImported={scope.refresh} />;
    default:
      return noSuchScreen();
  }
}

function noSuchScreen(): ReactNode {
  return (
    <>
      <h1>There is no such screen</h1>
      <p>The address may be old or mistyped. Choose one of the screens above.</p>
    </>
  );
}
