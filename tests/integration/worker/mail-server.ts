// A real SMTP server that a test can hold up at any step and that keeps what it took.
import type { AddressInfo } from 'node:net';
import { SMTPServer } from 'smtp-server';

/** Steps at which the server waits for the test, and may refuse by an error with `responseCode`. */
export interface MailHooks {
  connect?: () => Promise<void>;
  rcptTo?: (address: string) => Promise<void>;
  /** When the body begins to come. */
  dataBegins?: () => Promise<void>;
  /** When the end of the message has come, before the answer. Whether the message counts as taken is up to `taken`. */
  beforeAnswer?: (messageId: string) => Promise<void>;
}

export interface TakenMail {
  readonly messageId: string;
  readonly to: string[];
  readonly from: string;
  readonly raw: string;
}

export interface MailServer {
  readonly url: string;
  /** All messages whose end came in, in that order; a refused one is taken out again. */
  readonly taken: TakenMail[];
  hooks: MailHooks;
  close(): Promise<void>;
}

export async function startMailServer(): Promise<MailServer> {
  const taken: TakenMail[] = [];
  const state: { hooks: MailHooks } = { hooks: {} };
  const run = (hook: Promise<void> | undefined, done: (error?: Error | null) => void) =>
    void (hook ?? Promise.resolve()).then(() => done(), done);
  const server = new SMTPServer({
    authOptional: true,
    // Held connections never end by themselves.
    closeTimeout: 200,
    disabledCommands: ['STARTTLS', 'AUTH'],
    logger: false,
    onConnect: (_session, done) => run(state.hooks.connect?.(), done),
    onRcptTo: (address, _session, done) => run(state.hooks.rcptTo?.(address.address), done),
    onData: (stream, session, done) => {
      const chunks: Buffer[] = [];
      const begins = state.hooks.dataBegins?.() ?? Promise.resolve();
      stream.on('data', (chunk: Buffer) => void chunks.push(chunk));
      stream.on('end', () => {
        void begins
          .then(async () => {
            const raw = Buffer.concat(chunks).toString('utf8');
            const messageId = /^Message-ID:\s+(<[^>]+>)/im.exec(raw)?.[1] ?? '';
            const from = session.envelope.mailFrom ? session.envelope.mailFrom.address : '';
            const mail = { messageId, to: session.envelope.rcptTo.map((to) => to.address), from, raw };
            taken.push(mail);
            try {
              await state.hooks.beforeAnswer?.(messageId);
            } catch (error) {
              taken.splice(taken.indexOf(mail), 1);
              throw error;
            }
          })
          .then(() => done(), done);
      });
    },
  });
  // A client that is killed in the middle is what these tests are about.
  server.on('error', () => undefined);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.server.address() as AddressInfo;
  return {
    url: `smtp://127.0.0.1:${port}?tls=off`,
    taken,
    get hooks() {
      return state.hooks;
    },
    set hooks(hooks) {
      state.hooks = hooks;
    },
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}

/** The text part of a mail, decoded. */
export function textOf({ raw }: TakenMail): string {
  const part = /Content-Type: text\/plain[\s\S]*?\r\n\r\n([\s\S]*?)(?=\r\n--|$)/i.exec(raw);
  const head = raw.slice(0, raw.indexOf(part?.[1] ?? '')).toLowerCase();
  const body = part?.[1] ?? '';
  if (head.lastIndexOf('quoted-printable') < head.lastIndexOf('text/plain')) return body;
  const joined = body.replace(/=\r\n/g, '');
  const bytes = joined.replace(/=([0-9A-F]{2})/g, (_all, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
  return Buffer.from(bytes, 'latin1').toString('utf8');
}

/** A refusal with a reply code, as a hook throws it. */
export function refusal(responseCode: number, text: string): Error {
  return Object.assign(new Error(text), { responseCode });
}
