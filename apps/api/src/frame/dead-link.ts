import type { DeadLink } from '../../../../libs/data/src/listing/dead-link.ts';
import { ProblemError } from './problem-error.ts';

const WORDS: Readonly<Record<DeadLink, { readonly detail: string; readonly nextStep: string }>> = {
  unknown: {
    detail: 'No link has this address.',
    nextStep:
      'Open the link in the message once more. Mail programs sometimes break a long address: copy the whole of it.',
  },
  expired: {
    detail: 'It has expired: what it asked lies in the past.',
    nextStep:
      'You need not do anything. If you still have something to say, telephone, or reply to the message in which the link came.',
  },
  superseded: {
    detail: 'A newer message about the same thing was sent to you.',
    nextStep: 'Open the link in the newest message.',
  },
  withdrawn: {
    detail: 'It was withdrawn: what it asked was called off or settled in another way.',
    nextStep: 'You need not do anything. If in doubt, telephone whoever sent it, or reply to the message.',
  },
};

/** The problem that the holder of a dead link is shown: 404 where no link was ever there, 410 where one was. */
export function deadLink(why: DeadLink): ProblemError {
  return new ProblemError(why === 'unknown' ? 'not-found' : 'link-not-valid', WORDS[why]);
}
