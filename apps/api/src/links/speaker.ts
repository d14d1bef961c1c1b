import { english } from '../../../../libs/messages/src/languages/en/index.ts';
import type { Hazard } from '../../../../libs/messages/src/message-data.ts';
import type { Speaker } from '../../../../libs/messages/src/spoken.ts';

/** Who says dates, times and terms on the pages: English, in the order of the reader's own kind of English. */
export function speakerFor(language: string): Speaker {
  return { language: english, locale: /^en(?:-[A-Za-z0-9]+)*$/.test(language) ? language : 'en' };
}

/** The words of caution for some dangers, as the messages say them. */
export const cautionWords = (...hazards: readonly Hazard[]): string[] =>
  hazards.map((hazard) => english.cautions[hazard]);
