import { makeBrief } from '../../../../libs/data/src/brief/make-brief.ts';
import { visitByName } from '../../../../libs/data/src/brief/visit-by-name.ts';
import { briefCore } from '../../../../libs/intake/src/index.ts';
import { DryspellError, instantFromMs, parseInstant } from '../../../../libs/kernel/src/index.ts';
import { morningBriefData } from '../../../../libs/messages/src/brief-data.ts';
import { renderMessage } from '../../../../libs/messages/src/render-message.ts';
import { PlainError } from '../program/plain-error.ts';
import { type Command, type CommandInput, onePositional, optionalText, UsageError } from './command.ts';
import { chooseSeason } from './export.command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

function nowOf(input: CommandInput) {
  const text = optionalText(input, 'at');
  if (text === undefined) return instantFromMs(Date.now());
  try {
    return parseInstant(text);
  } catch {
    throw new UsageError(`--at is a moment in UTC such as 2027-05-12T19:00:00Z; got "${text}"`);
  }
}

export const briefCommand: Command = {
  name: 'brief',
  summary: 'Go or hold for a published visit: odds, both costs, what breaks, and what is not known.',
  usage: '<job key or visit id>',
  help: [
    '  --season <key>        only needed when there are several',
    '  --at <moment>         as it would be made at this moment (UTC); else now. Nothing is sent or kept.',
    ORGANISATION_HELP,
  ],
  options: { season: { type: 'string' }, at: { type: 'string' }, ...ORGANISATION_OPTION },
  async run(input) {
    const name = onePositional(input, 'visit');
    const now = nowOf(input);
    return withOrganisation(input, { create: false }, async (db, organisation) => {
      const { head } = await chooseSeason(db, organisation, optionalText(input, 'season'));
      try {
        const scope = { organisationId: organisation.id };
        const visitId = await visitByName(db, scope, { season: head.key, name });
        const { brief } = await makeBrief(db, briefCore, { visitId, now });
        const { text } = renderMessage({
          template: 'morning-brief',
          data: {
            firm: { name: head.organisationName, phone: null, mail: null },
            to: { name: 'manager' },
            brief: morningBriefData(brief, null),
          },
          links: { open: null },
          language: 'en',
        });
        return { facts: brief, lines: text.trimEnd().split('\n') };
      } catch (error) {
        if (error instanceof DryspellError && error.code === 'not-found')
          throw new PlainError(
            `the season ${head.key} has no published visit "${name}". Name a job by its key, or publish a plan first.`,
          );
        if (error instanceof DryspellError && error.code === 'state-conflict')
          throw new PlainError(String(error.data['detail'] ?? error.message));
        throw error;
      }
    });
  },
};
