import net from 'node:net';
import tls from 'node:tls';
import { type MailServer, parseMailUrl } from '../../../../libs/messages/src/mail-url.ts';
import { plainLine } from '../program/plain-error.ts';
import type { Finding } from './finding.ts';

const WAIT_MS = 5_000;

/** Connects and waits for the greeting of a mail server (RFC 5321, 4.2: code 220). Sends nothing but QUIT. */
function greeting(server: MailServer): Promise<string> {
  return new Promise((resolve, reject) => {
    const { host, port } = server;
    const socket =
      server.tls === 'from-start'
        ? tls.connect({ host, port, servername: host, rejectUnauthorized: server.verifyCertificate })
        : net.connect({ host, port });
    socket.setTimeout(WAIT_MS, () => socket.destroy(new Error(`no greeting within ${WAIT_MS / 1000} s`)));
    socket.once('error', reject);
    socket.once('close', () => reject(new Error('the connection was closed without a greeting')));
    socket.once('data', (data) => {
      resolve(data.toString('utf8').split('\r\n')[0] ?? '');
      socket.end('QUIT\r\n');
    });
  });
}

/** Whether mail can be handed over; without a server it is held, which is no fault. */
export async function checkMail(environment: Readonly<Record<string, string | undefined>>): Promise<Finding> {
  const url = environment['DRYSPELL_SMTP_URL'];
  if (!url) {
    return {
      subject: 'mail',
      ok: true,
      said: 'held and shown as not sent; set DRYSPELL_SMTP_URL and DRYSPELL_MAIL_FROM to send',
    };
  }
  try {
    const server = parseMailUrl(url);
    if (!environment['DRYSPELL_MAIL_FROM']) {
      return {
        subject: 'mail',
        ok: false,
        said: 'DRYSPELL_MAIL_FROM is missing: the address that messages come from',
      };
    }
    const line = await greeting(server);
    const where = `${server.host}:${server.port}`;
    if (!line.startsWith('220'))
      return { subject: 'mail', ok: false, said: `${where} answers "${line}"; expected 220` };
    const held =
      environment['DRYSPELL_MAIL_HOLD'] === 'true' ? '; held all the same (DRYSPELL_MAIL_HOLD)' : '';
    return { subject: 'mail', ok: true, said: `${where} greets${held}` };
  } catch (error) {
    return {
      subject: 'mail',
      ok: false,
      said: `${plainLine(error)}. Check DRYSPELL_SMTP_URL and the mail server.`,
    };
  }
}
