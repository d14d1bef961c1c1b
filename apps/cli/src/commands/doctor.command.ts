import { tzDataVersion } from '../../../../libs/kernel/src/index.ts';
import { checkDatabase } from '../doctor/check-database.ts';
import { checkForecasts } from '../doctor/check-forecasts.ts';
import { checkMail } from '../doctor/check-mail.ts';
import type { Finding } from '../doctor/finding.ts';
import { checkQueue } from '../launcher/queue-check.ts';
import { plainLine } from '../program/plain-error.ts';
import { programVersion } from '../program/program-root.ts';
import type { Command, CommandInput } from './command.ts';
import { withDatabase } from './with-database.ts';

async function asFinding(subject: string, check: () => Promise<string>): Promise<Finding> {
  try {
    return { subject, ok: true, said: await check() };
  } catch (error) {
    return { subject, ok: false, said: plainLine(error) };
  }
}

async function checkStores(input: CommandInput): Promise<Finding[]> {
  try {
    return await withDatabase(input, { create: false }, async ({ url, shownAs }) => [
      ...(await checkDatabase(url, shownAs)),
      await asFinding('queue', () => checkQueue(url, input.environment['REDIS_URL'] || undefined)),
    ]);
  } catch (error) {
    return [{ subject: 'database', ok: false, said: plainLine(error) }];
  }
}

export const doctorCommand: Command = {
  name: 'doctor',
  summary: 'Look at what Dryspell stands on, one line each.',
  usage: '',
  help: ['  Exit code 1 when a line is marked with ✗. Reads the same settings as npm start.', ''],
  options: {},
  async run(input) {
    const findings: Finding[] = [
      { subject: 'program', ok: true, said: `Dryspell ${programVersion()} on Node ${process.versions.node}` },
      {
        subject: 'time zones',
        ok: true,
        said: `IANA ${tzDataVersion}, carried by the program; that of Node (${process.versions.tz ?? 'none'}) and of the database is not used`,
      },
      ...(await checkStores(input)),
      await checkMail(input.environment),
      checkForecasts(input.environment),
    ];
    const width = Math.max(...findings.map(({ subject }) => subject.length));
    return {
      facts: findings,
      lines: findings.map(({ subject, ok, said }) => `${ok ? '✓' : '✗'} ${subject.padEnd(width)}  ${said}`),
      exitCode: findings.every(({ ok }) => ok) ? 0 : 1,
    };
  },
};
