import { type ReactNode, useId, useState } from 'react';
import { api, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';

interface Props {
  readonly season: string;
  readonly person: string;
}

/** The secret address under which a calendar program can follow one's own visits. */
export function CalendarAddress({ season, person }: Props): ReactNode {
  const id = useId();
  const [address, setAddress] = useState<string | null>(null);
  const make = useAction(async () => {
    const feed = await take(
      api.POST('/api/v1/calendar-feeds', { body: { season, kind: 'person', key: person } }),
    );
    setAddress(feed.url);
  });
  return (
    <section aria-labelledby={`${id}-head`}>
      <h2 id={`${id}-head`}>My visits in my own calendar</h2>
      <p>
        Your calendar program can follow a secret address. Whoever has it sees your visits, so keep it to
        yourself. A new address ends the old one.
      </p>
      <button type="button" className="button button-plain" disabled={make.busy} onClick={() => make.run()}>
        Make a new address
      </button>
      <TroubleNotice trouble={make.trouble} />
      <div role="status">
        {address && (
          <div className="field">
            <label htmlFor={`${id}-address`}>
              Address to put into the calendar program; it is shown only now
            </label>
            <input
              id={`${id}-address`}
              type="text"
              readOnly
              value={address}
              onFocus={(event) => event.target.select()}
            />
          </div>
        )}
      </div>
    </section>
  );
}
