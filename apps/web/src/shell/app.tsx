import { type ReactNode, useEffect, useRef } from 'react';
import { TroubleNotice } from '../parts/trouble-notice.tsx';
import { Link, usePlace } from '../route/route.tsx';
import { MyVisitsScreen } from '../screens/my-visits/my-visits-screen.tsx';
import { CustomerScreen } from '../screens/others/customer-screen.tsx';
import { PartnerScreen } from '../screens/others/partner-screen.tsx';
import { SignInScreen } from '../screens/sign-in/sign-in-screen.tsx';
import { Fault } from './fault.tsx';
import { ManagerApp } from './manager-app.tsx';
import { Masthead } from './masthead.tsx';
import { type Me, type SessionControl, useSession } from './session.ts';
import { wayOf, waysOf } from './ways.ts';

/** The whole program in the browser. */
export function App(): ReactNode {
  const control = useSession();
  const { session } = control;
  return (
    <Fault>
      <a className="skip" href="#main">
        Go to the content
      </a>
      {session.kind === 'asking' && (
        <main id="main" className="door">
          <h1>Dryspell</h1>
          <p role="status">Looking who is signed in …</p>
        </main>
      )}
      {session.kind === 'trouble' && (
        <main id="main" className="door">
          <h1>Dryspell</h1>
          <TroubleNotice trouble={session.trouble} again={control.askAgain} />
        </main>
      )}
      {session.kind === 'out' && <SignInScreen ended={session.ended} />}
      {session.kind === 'in' && <SignedIn me={session.me} control={control} />}
    </Fault>
  );
}

function SignedIn({ me, control }: { me: Me; control: SessionControl }): ReactNode {
  const { path } = usePlace();
  const ways = waysOf(me);
  const here = wayOf(path, ways);
  useArrival(path, here?.words ?? 'Not found');
  const navigation = (
    <nav className="ways plain-face" aria-label="Screens">
      <ul>
        {ways.map((way) => (
          <li key={way.to}>
            <Link to={way.to} current={way === here}>
              {way.words}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
  if (me.role === 'manager') return <ManagerApp me={me} control={control} navigation={navigation} />;
  return (
    <>
      <Masthead me={me} control={control} />
      {navigation}
      <main id="main" className="page" tabIndex={-1}>
        {me.role === 'crew' && <MyVisitsScreen me={me} />}
        {me.role === 'customer' && <CustomerScreen />}
        {me.role === 'partner' && <PartnerScreen />}
      </main>
    </>
  );
}

/** On another screen the title of the page changes and the focus goes to its content, as a fresh page would do. */
function useArrival(path: string, words: string): void {
  const first = useRef(true);
  // biome-ignore lint/correctness/useExhaustiveDependencies: arriving at another path is what counts
  useEffect(() => {
    document.title = `${words} · Dryspell`;
    if (!first.current) {
      document.getElementById('main')?.focus();
      window.scrollTo(0, 0);
    }
    first.current = false;
  }, [path, words]);
}
