import type { Actor } from '../../../../libs/data/src/actor.ts';
import type { Call } from '../frame/call.ts';

/** The signed-in user of a call as the audit keeps it. */
export function actorOf(call: Call): Actor {
  const { userId, name } = call.user;
  return { kind: 'user', id: userId, name };
}
