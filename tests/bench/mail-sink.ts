import type { AddressInfo } from 'node:net';
import { SMTPServer } from 'smtp-server';

export interface MailSink {
  readonly url: string;
  /** Messages taken so far. */
  taken(): number;
  close(): Promise<void>;
}

/** An SMTP server on this machine that takes every message and keeps none. */
export async function startMailSink(): Promise<MailSink> {
  let taken = 0;
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS', 'AUTH'],
    logger: false,
    onData: (stream, _session, done) => {
      stream.resume();
      stream.on('end', () => {
        taken += 1;
        done();
      });
    },
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.server.address() as AddressInfo;
  return {
    url: `smtp://127.0.0.1:${port}?tls=off`,
    taken: () => taken,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
