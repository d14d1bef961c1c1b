import {
  createLink,
  findLink,
  type LinkInput,
  linkToken,
  type Recipient,
} from '../../../../libs/data/src/action-link.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import type { DeliveryWork } from '../../../../libs/data/src/delivery.repository.ts';
import type { MessageLink } from '../../../../libs/data/src/visit-message.ts';
import { addDays, type Instant, localToInstant } from '../../../../libs/kernel/src/index.ts';
import type { StoredCrewMessage } from './stored-message.ts';

/** Where the pages of links lie. */
const PATHS: Readonly<Record<string, string>> = { 'sign-in': '/sign-in/' };
const USUAL_PATH = '/l/';

export interface LinkContext {
  readonly db: Database;
  readonly publicUrl: string;
  readonly secret: string;
  readonly now: Instant;
}

/** The address of the page that a delivery's link leads to; null when the message carries none. */
export async function linkUrlOf(context: LinkContext, delivery: DeliveryWork): Promise<string | null> {
  const { links = [] } = delivery.data as { links?: readonly MessageLink[] };
  const link = links[0] ?? (await freshCrewLink(context, delivery));
  return link ? addressOf(context, link) : null;
}

function addressOf({ publicUrl, secret }: LinkContext, { id, purpose }: MessageLink): string {
  return `${publicUrl}${PATHS[purpose] ?? USUAL_PATH}${linkToken(secret, id)}`;
}

/**
 * A reminder to somebody who has answered: the first link is used up, and the answer may still be changed. An unused
 * link of an earlier try of the same reminder is taken again.
 */
async function freshCrewLink(context: LinkContext, delivery: DeliveryWork): Promise<MessageLink | null> {
  if (delivery.template !== 'crew-reminder') return null;
  const { assignment, visit } = delivery.data as StoredCrewMessage;
  const recipient: Recipient = delivery.recipient;
  const end = { date: addDays(visit.releaseDay, 1), time: '00:00', zone: visit.site.zone };
  const input: LinkInput = {
    organisationId: delivery.organisationId,
    seasonId: delivery.seasonId,
    purpose: 'crew-assignment',
    subjectKind: 'assignment',
    subjectId: assignment.id,
    recipient,
    expiresAt: localToInstant(end, { inGap: 'next-valid' }).instant,
  };
  return context.db.transaction(async (tx) => {
    const known = await findLink(tx, { ...input, now: context.now });
    const id = known?.id ?? (await createLink(tx, input, context.secret));
    return { id, purpose: input.purpose };
  });
}
