import { Readable } from 'node:stream';
import SMTPConnection, { type SMTPConnectionOptions } from 'nodemailer/lib/smtp-connection';
import type { BeforeEnd, ChannelPort, ChannelReceipt } from './channel-port.ts';
import { MailFailure, type SmtpErrorFields, sortSmtpError } from './mail-failure.ts';
import { buildMime, type Mailbox, type MailMessage, parseMailbox, parseMailMessage } from './mail-message.ts';
import { type MailServer, parseMailUrl } from './mail-url.ts';

const CHUNK_BYTES = 16 * 1024;

/** Milliseconds to wait. The defaults follow RFC 5321 section 4.5.3.2 where waiting longer avoids a doubt. */
export interface MailTimeouts {
  readonly connectMs: number;
  readonly greetingMs: number;
  /** From the start until everything but the end has been handed over. */
  readonly handOverMs: number;
  /** For the answer to the end of the message; RFC 5321 asks for ten minutes, since giving up early leaves doubt. */
  readonly answerMs: number;
}

const USUAL_TIMEOUTS: MailTimeouts = {
  connectMs: 20_000,
  greetingMs: 30_000,
  handOverMs: 180_000,
  answerMs: 600_000,
};

export interface MailChannelParams {
  /** As read by `parseMailUrl`; empty or absent: there is no mail server. */
  readonly url: string | null | undefined;
  readonly from: Mailbox;
  readonly timeouts?: Partial<MailTimeouts>;
}

export type MailChannel = ChannelPort<MailMessage>;

/**
 * A channel for mail, or null when no mail server is named: the caller then keeps the message and shows it as held.
 * Throws `invalid-input` for an address that cannot be used.
 *
 * Every message gets a connection of its own. A shared one is quicker, but a message could then be started again by
 * the pool after a lost connection, and no message may go out twice.
 */
export function createMailChannel(params: MailChannelParams): MailChannel | null {
  if (!params.url) return null;
  const server = parseMailUrl(params.url);
  const from = parseMailbox(params.from, 'from');
  const timeouts = { ...USUAL_TIMEOUTS, ...params.timeouts };
  return {
    channel: 'mail',
    send: async ({ beforeEnd, ...message }) => {
      const mail = parseMailMessage(message);
      const bytes = await buildMime(from, mail);
      return sendOnce({
        server,
        timeouts,
        sender: from.address,
        recipient: mail.to.address,
        bytes,
        beforeEnd,
      });
    },
    check: async () => {
      const connection = open(server, timeouts);
      const deadline = setTimeout(() => connection.fail({ code: 'ETIMEDOUT' }), timeouts.handOverMs);
      try {
        await connection.signedIn;
        connection.smtp.quit();
      } catch (error) {
        connection.smtp.close();
        throw new MailFailure(sortSmtpError(error as SmtpErrorFields, false));
      } finally {
        clearTimeout(deadline);
      }
    },
  };
}

interface Sending {
  readonly server: MailServer;
  readonly timeouts: MailTimeouts;
  readonly sender: string;
  readonly recipient: string;
  readonly bytes: Buffer;
  readonly beforeEnd: BeforeEnd;
}

async function sendOnce(sending: Sending): Promise<ChannelReceipt> {
  const connection = open(sending.server, sending.timeouts);
  const deadline = setTimeout(() => connection.fail({ code: 'ETIMEDOUT' }), sending.timeouts.handOverMs);
  const body = endHeldBack(sending.bytes, async () => {
    clearTimeout(deadline);
    await sending.beforeEnd();
  });
  try {
    await connection.signedIn;
    const info = await connection.transmit(sending, body.stream);
    connection.smtp.quit();
    return { accepted: info.accepted, response: info.response };
  } catch (error) {
    connection.smtp.close();
    body.stream.destroy();
    // The caller must not be told "not sent" while its own note "handing over" is still being written.
    await body.settled();
    if (body.refusal !== undefined) {
      const facts = {
        outcome: 'temporary',
        reason: 'hand-over-stopped',
        responseCode: null,
        response: null,
      } as const;
      throw new MailFailure(facts, body.refusal.error);
    }
    throw new MailFailure(sortSmtpError(error as SmtpErrorFields, body.endReleased));
  } finally {
    clearTimeout(deadline);
  }
}

interface HeldBody {
  readonly stream: Readable;
  /** True from the moment the end is let go; from then on only the server's answer can say whether it has the mail. */
  readonly endReleased: boolean;
  /** Set when `beforeEnd` rejected. */
  readonly refusal: { readonly error: unknown } | undefined;
  /** Resolves when `beforeEnd` is not running (any more). */
  settled(): Promise<void>;
}

/** The message as a stream that gives all its bytes and then does not end until `beforeEnd` has resolved. */
function endHeldBack(bytes: Buffer, beforeEnd: BeforeEnd): HeldBody {
  const state: { endReleased: boolean; refusal: { error: unknown } | undefined; running: Promise<void> } = {
    endReleased: false,
    refusal: undefined,
    running: Promise.resolve(),
  };
  async function* pieces(): AsyncGenerator<Buffer> {
    // Pieces, so that the socket's back-pressure keeps us from running far ahead of what has really been sent.
    for (let at = 0; at < bytes.length; at += CHUNK_BYTES) yield bytes.subarray(at, at + CHUNK_BYTES);
    const running = beforeEnd();
    state.running = running.catch((error: unknown) => {
      state.refusal = { error };
    });
    await running;
    // The connection may have gone while we waited: then the end can no longer be sent.
    if (stream.destroyed) return;
    state.endReleased = true;
  }
  const stream = Readable.from(pieces(), { objectMode: false });
  return {
    stream,
    get endReleased() {
      return state.endReleased;
    },
    get refusal() {
      return state.refusal;
    },
    settled: () => state.running,
  };
}

interface OpenConnection {
  readonly smtp: SMTPConnection;
  /** Resolves when the greeting is over, TLS stands as asked and we are signed in. */
  readonly signedIn: Promise<void>;
  transmit(
    envelope: { sender: string; recipient: string; bytes: Buffer },
    body: Readable,
  ): Promise<ChannelReceipt>;
  /** Ends everything that is waited for. */
  fail(error: SmtpErrorFields): void;
}

function open(server: MailServer, timeouts: MailTimeouts): OpenConnection {
  const smtp = new SMTPConnection(connectionOptions(server, timeouts));
  let fail: (error: SmtpErrorFields) => void = () => undefined;
  const lost = new Promise<never>((_, reject) => {
    fail = reject;
  });
  lost.catch(() => undefined);
  // Stays for good: a late error of a connection that is already closed must not end the process.
  smtp.on('error', fail);
  const begin = async (): Promise<void> => {
    await new Promise<void>((resolve, reject) =>
      smtp.connect((error) => (error ? reject(error) : resolve())),
    );
    const { signIn } = server;
    if (!signIn) return;
    await new Promise<void>((resolve, reject) =>
      smtp.login({ user: signIn.user, credentials: { user: signIn.user, pass: signIn.password } }, (error) =>
        error ? reject(error) : resolve(),
      ),
    );
  };
  return {
    smtp,
    signedIn: Promise.race([lost, begin()]),
    transmit: (envelope, body) =>
      Promise.race([
        lost,
        new Promise<ChannelReceipt>((resolve, reject) =>
          smtp.send(
            { from: envelope.sender, to: [envelope.recipient], size: envelope.bytes.length },
            body,
            (error, info) =>
              error ? reject(error) : resolve({ accepted: info.accepted, response: info.response }),
          ),
        ),
      ]),
    fail,
  };
}

function connectionOptions(server: MailServer, timeouts: MailTimeouts): SMTPConnectionOptions {
  return {
    host: server.host,
    port: server.port,
    secure: server.tls === 'from-start',
    requireTLS: server.tls === 'required',
    ignoreTLS: server.tls === 'off',
    name: server.ownName,
    tls: { rejectUnauthorized: server.verifyCertificate },
    dnsTimeout: timeouts.connectMs,
    connectionTimeout: timeouts.connectMs,
    greetingTimeout: timeouts.greetingMs,
    socketTimeout: timeouts.answerMs,
    socketCloseTimeout: 1_000,
    // No logger: what goes over the wire holds credentials and single-use links.
    logger: false,
  };
}
