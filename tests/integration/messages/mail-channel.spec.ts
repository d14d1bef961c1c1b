import { setTimeout as wait } from 'node:timers/promises';
import { jest } from '@jest/globals';
import { createMailChannel, type MailChannel } from '../../../libs/messages/src/mail-channel.ts';
import { MailFailure } from '../../../libs/messages/src/mail-failure.ts';
import { type Script, startScriptedServer } from './scripted-smtp-server.ts';

const mail = {
  to: { name: 'Robin Alder', address: 'robin@example.test' },
  subject: 'Your visit',
  text: 'Hello\n.\n..dots at the start of a line\n',
  html: '<p>Hello</p>',
  messageId: '<delivery-1@larchandloon.test>',
};

jest.setTimeout(60_000);

let stop: (() => Promise<void>) | undefined;
afterEach(async () => {
  await stop?.();
  stop = undefined;
});

async function serverAndChannel(script: Script, answerMs = 30_000) {
  const server = await startScriptedServer(script);
  stop = server.stop;
  const channel = createMailChannel({
    url: server.url,
    from: { name: 'Larch & Loon Domes', address: 'plan@larchandloon.test' },
    timeouts: {
      connectMs: 20_000,
      greetingMs: script.greeting === 'silence' ? 500 : 20_000,
      handOverMs: 30_000,
      answerMs,
    },
  });
  return { server, channel: channel as MailChannel };
}

async function failureOf(sending: Promise<unknown>): Promise<MailFailure> {
  const caught = await sending.then(
    () => undefined,
    (error: unknown) => error,
  );
  expect(caught).toBeInstanceOf(MailFailure);
  return caught as MailFailure;
}

const until = async (holds: () => boolean): Promise<void> => {
  for (let tries = 0; !holds() && tries < 200; tries += 1) await wait(10);
  expect(holds()).toBe(true);
};

describe('handing over a mail', () => {
  it('has no channel where no server is named', () => {
    expect(createMailChannel({ url: '', from: { address: 'a@b.test' } })).toBeNull();
    expect(createMailChannel({ url: undefined, from: { address: 'a@b.test' } })).toBeNull();
  });

  it('sends all of the message but not its end while beforeEnd is pending', async () => {
    const { server, channel } = await serverAndChannel({});
    let release: () => void = () => undefined;
    let reached = false;
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    const sending = channel.send({
      ...mail,
      text: 'x'.repeat(300_000),
      beforeEnd: () => {
        reached = true;
        return held;
      },
    });
    await until(() => reached && (server.seen[0]?.data.length ?? 0) > 300_000);
    await wait(200);
    // RFC 5321 section 4.1.1.4: the message ends with CRLF . CRLF; none of it may have come.
    expect(server.seen[0]?.ended).toBe(false);
    expect(server.seen[0]?.data).not.toContain('\r\n.\r\n');
    expect(server.seen[0]?.data.trimEnd()).toMatch(/--$/); // the closing MIME boundary is there
    release();
    const receipt = await sending;
    expect(server.seen[0]?.ended).toBe(true);
    expect(receipt).toEqual({ accepted: ['robin@example.test'], response: '250 taken' });
    await until(() => server.seen[0]?.commands.at(-1) === 'QUIT');
  });

  it('never sends the end when beforeEnd rejects, and keeps the cause', async () => {
    const { server, channel } = await serverAndChannel({});
    const cause = new Error('the row is no longer ours');
    const failure = await failureOf(channel.send({ ...mail, beforeEnd: () => Promise.reject(cause) }));
    expect(failure).toMatchObject({ outcome: 'temporary', reason: 'hand-over-stopped', cause });
    await until(() => server.seen[0]?.closed === true);
    expect(server.seen[0]?.ended).toBe(false);
  });

  it('calls beforeEnd once and uses one connection for each message', async () => {
    const { server, channel } = await serverAndChannel({});
    let calls = 0;
    const beforeEnd = async () => {
      calls += 1;
    };
    await channel.send({ ...mail, beforeEnd });
    await channel.send({ ...mail, beforeEnd });
    expect(calls).toBe(2);
    expect(server.seen).toHaveLength(2);
  });

  it('doubles the dot at the start of a line, so that the text cannot end the message (RFC 5321 section 4.5.2)', async () => {
    const { server, channel } = await serverAndChannel({});
    await channel.send({ ...mail, beforeEnd: async () => undefined });
    const data = server.seen[0]?.data ?? '';
    expect(data.split('\r\n.\r\n')).toHaveLength(2);
    expect(data).toContain('\r\n..\r\n');
    expect(data).toContain('\r\n...dots at the start');
  });
});

describe('what is known after a failure', () => {
  // Reply codes by RFC 5321 section 4.2.3; which outcome follows is ours.
  it.each<[string, Script, Partial<MailFailure>]>([
    ['greeting is a cut connection', { greeting: 'drop' }, { outcome: 'temporary', reason: 'no-connection' }],
    ['greeting never comes', { greeting: 'silence' }, { outcome: 'temporary', reason: 'no-connection' }],
    ['greeting is 554', { greeting: '554 no service' }, { outcome: 'temporary', responseCode: 554 }],
    [
      'sender gets 451',
      { mailFrom: '451 later' },
      { outcome: 'temporary', reason: 'try-later', responseCode: 451 },
    ],
    [
      'sender gets 550',
      { mailFrom: '550 no' },
      { outcome: 'permanent', reason: 'sender-refused', responseCode: 550 },
    ],
    ['sender gets 530', { mailFrom: '530 sign in' }, { outcome: 'temporary', reason: 'sign-in-refused' }],
    [
      'recipient gets 450',
      { rcptTo: '450 busy' },
      { outcome: 'temporary', reason: 'try-later', responseCode: 450 },
    ],
    ['recipient gets 550', { rcptTo: '550 nobody' }, { outcome: 'permanent', reason: 'recipient-refused' }],
    ['data gets 554', { data: '554 no' }, { outcome: 'permanent', reason: 'message-refused' }],
    ['data gets 421', { data: '421 closing' }, { outcome: 'temporary', responseCode: 421 }],
    ['data is cut midway', { dropAfterDataBytes: 200 }, { outcome: 'temporary', reason: 'no-connection' }],
    [
      'end gets 451',
      { afterEnd: '451 later' },
      { outcome: 'temporary', reason: 'try-later', responseCode: 451 },
    ],
    [
      'end gets 554',
      { afterEnd: '554 spam' },
      { outcome: 'permanent', reason: 'message-refused', responseCode: 554 },
    ],
    [
      'end gets a cut connection',
      { afterEnd: 'drop' },
      { outcome: 'unknown', reason: 'no-answer-after-end' },
    ],
    [
      'end gets an answer that is no reply',
      { afterEnd: 'hm' },
      { outcome: 'unknown', reason: 'no-answer-after-end' },
    ],
  ])('%s', async (_title, script, expected) => {
    const { server, channel } = await serverAndChannel(script);
    // Larger than what the two sockets can hold: a message that fits into them counts as sent until told otherwise.
    const big = { ...mail, text: 'line of the text\n'.repeat(script.dropAfterDataBytes ? 1_000_000 : 10) };
    const failure = await failureOf(channel.send({ ...big, beforeEnd: async () => undefined }));
    expect(failure).toMatchObject(expected);
    if (failure.outcome === 'unknown') expect(server.seen[0]?.ended).toBe(true);
  });

  it('does not know when no answer comes after the end', async () => {
    const { channel } = await serverAndChannel({ afterEnd: 'silence' }, 400);
    const failure = await failureOf(channel.send({ ...mail, beforeEnd: async () => undefined }));
    expect(failure).toMatchObject({ outcome: 'unknown', reason: 'no-answer-after-end' });
  });

  it('says "not sent" only after beforeEnd has settled, when the server goes away meanwhile', async () => {
    const { server, channel } = await serverAndChannel({});
    let written = false;
    const failing = failureOf(
      channel.send({
        ...mail,
        beforeEnd: async () => {
          await stop?.();
          stop = undefined;
          await wait(150);
          written = true;
        },
      }),
    );
    const failure = await failing;
    expect(written).toBe(true);
    expect(server.seen[0]?.ended).toBe(false);
    expect(failure).toMatchObject({ outcome: 'temporary', reason: 'no-connection' });
  });

  it('is a refused connection when nobody listens', async () => {
    const { server, channel } = await serverAndChannel({});
    await server.stop();
    stop = undefined;
    let called = false;
    const failure = await failureOf(
      channel.send({
        ...mail,
        beforeEnd: async () => {
          called = true;
        },
      }),
    );
    expect(failure).toMatchObject({ outcome: 'temporary', reason: 'no-connection' });
    expect(called).toBe(false);
    await expect(channel.check()).rejects.toMatchObject({ outcome: 'temporary' });
  });
});
