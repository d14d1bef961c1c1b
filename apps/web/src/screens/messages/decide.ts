import { api, ifMatch, take } from '../../api/client.ts';
import { TroubleError } from '../../api/problem.ts';
import { stateWords } from '../../words/state-words.ts';

const DONE = {
  send: 'The message goes out again as soon as it can.',
  arrived: 'Noted: the message has arrived.',
  cancel: 'The message will not be sent.',
} as const;

/**
 * Decides on a message in the state in which it was shown. Resolves to the words for what was done; refuses when the
 * message has gone on since, because the decision was about something else.
 */
export async function decideDelivery(
  deliveryId: string,
  shownState: string,
  as: 'send' | 'arrived' | 'cancel',
): Promise<string> {
  const path = { deliveryId };
  const now = await take(api.GET('/api/v1/deliveries/{deliveryId}', { params: { path } }));
  if (now.state !== shownState) {
    throw new TroubleError({
      code: 'moved-on',
      status: 412,
      title: `The message has gone on since: it is now “${stateWords('delivery', now.state).words}”.`,
      detail: 'Nothing was changed.',
      nextStep: 'Look at the list again and decide anew.',
      faults: [],
      facts: {},
      reference: null,
    });
  }
  await take(
    api.POST('/api/v1/deliveries/{deliveryId}/decision', {
      params: { path, header: ifMatch(now.version) },
      body: { as },
    }),
  );
  return DONE[as];
}
