import { type AccountRole, inviteUser } from '../../../../libs/data/src/account.repository.ts';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import { makeSignInLink } from '../accounts/sign-in-link.ts';
import { type Command, optionalText, requiredText, UsageError } from './command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

const ROLES = ['manager', 'crew', 'customer', 'partner'] as const;

function isRole(text: string): text is AccountRole {
  return (ROLES as readonly string[]).includes(text);
}

export const userAddCommand: Command = {
  name: 'user add',
  summary: 'Make an account and print its one-time sign-in link.',
  usage: '',
  help: [
    '  --name <name>         name of the person',
    '  --email <address>     mail address; later links are sent there',
    '  --role <role>         manager, crew, customer or partner',
    '  --subject <key>       for crew, customer and partner: key of the person, customer or partner in the season',
    '  --language <tag>      language of messages (default: en)',
    ORGANISATION_HELP,
  ],
  options: {
    name: { type: 'string' },
    email: { type: 'string' },
    role: { type: 'string' },
    subject: { type: 'string' },
    language: { type: 'string' },
    ...ORGANISATION_OPTION,
  },
  async run(input) {
    if (input.positionals.length > 0) throw new UsageError('everything is said by options');
    const name = requiredText(input, 'name');
    const email = requiredText(input, 'email');
    const role = requiredText(input, 'role');
    const subjectKey = optionalText(input, 'subject') ?? null;
    if (!isRole(role)) throw new UsageError(`--role is one of ${ROLES.join(', ')}; got "${role}"`);
    if (!/^[^\s@]+@[^\s@]+\.[^\s@]+$/.test(email))
      throw new UsageError(`--email is not a mail address: "${email}"`);
    if (role !== 'manager' && subjectKey === null) {
      throw new UsageError(`--subject is missing: whom of the season does this ${role} account stand for?`);
    }
    const publicUrl = new URL(input.environment['DRYSPELL_PUBLIC_URL'] || 'http://localhost:8080').origin;
    const actor = systemActor('dryspell user add');
    const language = optionalText(input, 'language');
    const made = await withOrganisation(input, { create: false }, async (db, organisation) => {
      const account = await inviteUser(db, {
        organisationId: organisation.id,
        email,
        name,
        role,
        subjectKey,
        ...(language === undefined ? {} : { language }),
        actor,
      });
      const link = await makeSignInLink(db, { email, publicUrl, now: new Date(), actor });
      return { account, link };
    });
    return {
      facts: { account: made.account, signInUrl: made.link.url, expiresAt: made.link.expiresAt },
      lines: [
        `${made.account.name} <${made.account.email}> is ${role}`,
        `sign in: ${made.link.url}`,
        `works once, until ${made.link.expiresAt}. Hand it over by a safe way.`,
      ],
    };
  },
};
