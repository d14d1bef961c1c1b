import type { deliverySend } from '../../../../libs/contracts/src/jobs/index.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  claimDelivery,
  type DeliveryWork,
  holdDelivery,
  markFailed,
  markHandingOver,
  markSent,
  markUncertain,
} from '../../../../libs/data/src/delivery.repository.ts';
import { type Clock, DryspellError } from '../../../../libs/kernel/src/index.ts';
import type { MailChannel } from '../../../../libs/messages/src/mail-channel.ts';
import { MailFailure } from '../../../../libs/messages/src/mail-failure.ts';
import type { MailMessage } from '../../../../libs/messages/src/mail-message.ts';
import type { JobHandler, JobRun } from '../../../../libs/queue/src/queue.port.ts';
import { reasonOf } from '../../../../libs/queue/src/queue-error.ts';
import { type Log, withoutSecrets } from '../log.ts';
import { type MailContext, writeMail, writeWords } from '../messages/write-mail.ts';
import { retryAfter } from './retry-after.ts';

export interface DeliverySendParams {
  readonly db: Database;
  /** Null: there is nobody to send through; messages are held and shown as not sent. */
  readonly channel: MailChannel | null;
  readonly holdReason: string;
  readonly mail: Omit<MailContext, 'now'>;
  readonly workerName: string;
  readonly clock: Clock;
  readonly log: Log;
}

/** Tries of a write that only records what has happened, and the pauses between them; about half a minute. */
const RECORD_TRIES = 8;

/** Sends one message. Every end of a try is written to its row; the queue's own retries only cover a lost database. */
export function deliverySendHandler(params: DeliverySendParams): JobHandler<typeof deliverySend> {
  return async ({ deliveryId }, run) => {
    const { db, clock, workerName } = params;
    const early = params.channel === null;
    const work = await claimDelivery(db, { id: deliveryId, worker: workerName, now: clock.now(), early });
    if (work === null) return;
    if (params.channel === null || work.channel !== 'mail' || work.address === null) {
      await hold(params, work);
      return;
    }
    const mail = await writeOrFail(params, work, () => writeMail(contextNow(params), work));
    if (mail !== null) await handOver(params, params.channel, work, mail, run);
  };
}

function reasonToHold({ channel, holdReason }: DeliverySendParams, work: DeliveryWork): string {
  if (work.address === null) return 'no address is known';
  if (work.channel !== 'mail') return `There is no way to send by ${work.channel} on this server.`;
  return channel === null ? holdReason : '';
}

/** Kept with its words, so that the manager can tell them in person. */
async function hold(params: DeliverySendParams, work: DeliveryWork): Promise<void> {
  const { db, clock } = params;
  const held = { id: work.id, attempt: work.attempt, reason: reasonToHold(params, work) };
  if (work.channel !== 'mail' && work.channel !== 'text') {
    await holdDelivery(db, { ...held, text: null, now: clock.now() });
    return;
  }
  const words = await writeOrFail(params, work, () => writeWords(contextNow(params), work));
  if (words === null) return;
  const body = work.channel === 'text' && words.short !== null ? words.short : words.text;
  const text = { subject: words.subject, body: withoutSecrets(body) };
  await holdDelivery(db, { ...held, text, now: clock.now() });
}

const contextNow = (params: DeliverySendParams): MailContext => ({ ...params.mail, now: params.clock.now() });

/** A message that cannot be written is a mistake of the program or its data; trying again would not mend it. */
async function writeOrFail<Written>(
  params: DeliverySendParams,
  work: DeliveryWork,
  write: () => Written,
): Promise<Written | null> {
  const now = params.clock.now();
  try {
    return write();
  } catch (error) {
    const about = error instanceof DryspellError ? ` ${JSON.stringify(error.data)}` : '';
    params.log.error(
      { delivery: work.id, template: work.template, reason: `${reasonOf(error)}${about}` },
      'unwritable',
    );
    const fault = `The message could not be written: ${reasonOf(error)}${about}`;
    await markFailed(params.db, { id: work.id, attempt: work.attempt, fault, retryAt: null, now });
    return null;
  }
}

async function handOver(
  params: DeliverySendParams,
  channel: MailChannel,
  work: DeliveryWork,
  mail: MailMessage,
  run: JobRun,
): Promise<void> {
  const { db, clock, log } = params;
  const { id, attempt } = work;
  const beforeEnd = async (): Promise<void> => {
    if (run.signal.aborted) throw new Error(`This run may not go on: ${run.signal.reason}.`);
    // What is kept of the text shows no link: whoever reads the table must not be able to use one.
    await markHandingOver(db, { id, attempt, subject: mail.subject, body: withoutSecrets(mail.text) });
  };
  const record = (what: string, write: () => Promise<void>) =>
    recordSurely(log, { delivery: id, what }, write);
  try {
    const { response } = await channel.send({ ...mail, beforeEnd });
    await record('sent', () => markSent(db, { id, attempt, response, now: clock.now() }));
    log.info({ delivery: id, template: work.template, attempt }, 'sent');
  } catch (error) {
    if (!(error instanceof MailFailure)) throw error;
    const fault = faultWords(error);
    const now = clock.now();
    if (error.outcome === 'unknown') {
      await record('uncertain', () => markUncertain(db, { id, attempt, fault, now }));
      log.warn(
        { delivery: id, attempt, reason: error.reason },
        'nobody can say whether this message arrived',
      );
      return;
    }
    const retryAt = error.outcome === 'temporary' ? retryAfter(attempt, now) : null;
    await record('failed', () => markFailed(db, { id, attempt, fault, retryAt, now }));
    const again = retryAt === null ? 'not by itself' : retryAt;
    log.warn({ delivery: id, attempt, reason: error.reason, response: error.response, again }, 'not sent');
  }
}

/**
 * Writes down what has happened outside, which cannot be taken back: patiently, while the database is away. When it stays
 * away the row remains as it is, and the sweep makes of it what is safe: `uncertain`, or another try.
 */
async function recordSurely(log: Log, about: object, write: () => Promise<void>): Promise<void> {
  for (let tries = 1; ; tries += 1) {
    try {
      return await write();
    } catch (error) {
      if (error instanceof DryspellError && error.code === 'state-conflict') {
        log.warn(about, 'the message had been taken back from this worker before its end could be written');
        return;
      }
      if (tries >= RECORD_TRIES) throw error;
      await new Promise((resolve) => setTimeout(resolve, 250 * 2 ** Math.min(tries, 5)));
    }
  }
}

const REASONS: Readonly<Record<MailFailure['reason'], string>> = {
  'no-connection': 'The mail server could not be reached.',
  'no-secure-connection': 'The mail server offers no secure connection.',
  'sign-in-refused': 'The mail server refused our sign-in. Check the mail settings of the server.',
  'sender-refused': 'The mail server refused our sender address.',
  'recipient-refused': 'The mail server refused the recipient’s address. Check it.',
  'message-refused': 'The mail server refused the message.',
  'too-large': 'The message is larger than the mail server takes.',
  'try-later': 'The mail server asked us to try later.',
  'hand-over-stopped': 'Handing over was stopped before the end.',
  'no-answer-after-end': 'The mail server gave no answer after the end of the message. It may have arrived.',
};

function faultWords({ reason, response }: MailFailure): string {
  return response === null ? REASONS[reason] : `${REASONS[reason]} It said: ${response}`;
}
