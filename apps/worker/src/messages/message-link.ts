import { linkToken } from '../../../../libs/data/src/action-link.repository.ts';
import type { DeliveryWork } from '../../../../libs/data/src/delivery.repository.ts';
import type { MessageLink } from '../../../../libs/data/src/visit-message.ts';

/** Where the pages of links lie; those of any other purpose under `USUAL_PATH`. */
const PATHS: Readonly<Record<string, string>> = { 'sign-in': '/sign-in/' };
const USUAL_PATH = '/l/';

export interface LinkContext {
  readonly publicUrl: string;
  /** The tokens of links are derived from it. */
  readonly secret: string;
}

/** The address of the page that a delivery's link leads to; null when the message carries none. */
export function linkUrlOf({ publicUrl, secret }: LinkContext, delivery: DeliveryWork): string | null {
  const { links = [] } = delivery.data as { links?: readonly MessageLink[] };
  const link = links[0];
  return link ? `${publicUrl}${PATHS[link.purpose] ?? USUAL_PATH}${linkToken(secret, link.id)}` : null;
}
