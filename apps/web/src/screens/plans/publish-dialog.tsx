import { type ReactNode, useState } from 'react';
import { api, freshKey, ifMatch, type Schema, take } from '../../api/client.ts';
import { useAction } from '../../api/use-action.ts';
import { count } from '../../format/counts.ts';
import { Dialog } from '../../parts/dialog.tsx';
import { Notice } from '../../parts/notice.tsx';
import { TroubleNotice } from '../../parts/trouble-notice.tsx';
import type { Concerned, ConcernedGroup } from './concerned.ts';

type Plan = Schema<'Plan'>;
export type PublishReport = Schema<'PublishReport'>;

interface Props {
  readonly plan: Plan;
  readonly season: string;
  readonly concerned: Concerned;
  readonly onPublished: (report: PublishReport) => void;
  readonly onClose: () => void;
}

/** Asks once more before everybody concerned is told. */
export function PublishDialog({ plan, season, concerned, onPublished, onClose }: Props): ReactNode {
  // One key for this asking: pressed twice, or sent again after a broken line, it is published once.
  const [key] = useState(freshKey);
  const publish = useAction(async () => {
    onPublished(
      await take(
        api.POST('/api/v1/seasons/{season}/plans/{planId}/publish', {
          params: {
            path: { season, planId: plan.id },
            header: { ...ifMatch(plan.version), 'Idempotency-Key': key },
          },
          body: { seasonChangesSeen: plan.seasonChangesSince },
        }),
      ),
    );
  });
  return (
    <Dialog title={`Publish plan no. ${plan.number}?`} onClose={onClose}>
      {plan.seasonChangesSince > 0 && (
        <Notice kind="warn">
          <p>
            {count(plan.seasonChangesSince, 'row')} of the season changed after this plan was made, and the
            plan was not checked against them. Planning again is the safer way.
          </p>
        </Notice>
      )}
      <ConcernedList concerned={concerned} />
      <p>
        Each is told of what concerns them only, outside their quiet hours. Where no mail server is set, all
        messages are held and shown as not sent until you release them.
      </p>
      <TroubleNotice trouble={publish.trouble} />
      <div className="row-of-buttons">
        <button type="button" className="button" disabled={publish.busy} onClick={() => publish.run()}>
          {publish.busy ? 'Publishing …' : 'Publish and tell them'}
        </button>
        <button type="button" className="button button-plain" disabled={publish.busy} onClick={onClose}>
          Not now
        </button>
      </div>
    </Dialog>
  );
}

/** Who will be told, by group, with about how many messages. */
export function ConcernedList({ concerned }: { concerned: Concerned }): ReactNode {
  const { people, customers, partners, withoutAddress } = concerned;
  const messages = people.messages + customers.messages + partners.messages;
  if (messages === 0) return <p>Nobody has to be told: no visit changes.</p>;
  return (
    <>
      <p>About {count(messages, 'message')}, one or more for each visit that changes:</p>
      <dl className="facts">
        <Group title={count(people.names.length, 'crew member')} group={people} />
        <Group title={count(customers.names.length, 'customer')} group={customers} />
        <Group title={count(partners.names.length, 'partner')} group={partners} />
      </dl>
      {withoutAddress.length > 0 && (
        <Notice kind="warn">
          <p>
            No mail address is known for {withoutAddress.join(', ')}: what is for them will be held. Tell them
            yourself.
          </p>
        </Notice>
      )}
    </>
  );
}

function Group({ title, group }: { title: string; group: ConcernedGroup }): ReactNode {
  return (
    <>
      <dt>{title}</dt>
      <dd>
        {group.names.length === 0
          ? 'none'
          : `about ${count(group.messages, 'message')}: ${group.names.join(', ')}`}
      </dd>
    </>
  );
}
