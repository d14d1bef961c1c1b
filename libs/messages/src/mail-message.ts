import MailComposer from 'nodemailer/lib/mail-composer';
import { z } from 'zod';
import { DryspellError } from '../../kernel/src/index.ts';

/** Line ends and all other control characters: what could add a header. */
const lineBreaks = /\p{Cc}/u;
const oneLine = z.string().refine((text) => !lineBreaks.test(text), 'must be one line');
/** One mailbox: no list, no comment, no group. Whether it exists only the server can say. */
const mailbox = z.strictObject({
  name: oneLine.max(200).optional(),
  address: z
    .string()
    .max(254)
    .regex(/^[^\s\p{Cc}@"(),:;<>[\\\]]+@[^\s\p{Cc}@"(),:;<>[\\\]]+$/u, 'must be one mail address'),
});

const RESERVED =
  /^(from|sender|to|cc|bcc|reply-to|subject|date|message-id|mime-version|content-.*|received|return-path)$/i;
const headerName = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9-]{0,75}$/)
  .refine((name) => !RESERVED.test(name), 'is set by other means');

/** One mail to one person. */
export const mailMessageSchema = z.strictObject({
  to: mailbox,
  replyTo: mailbox.optional(),
  subject: oneLine.min(1).max(300),
  text: z.string().min(1),
  html: z.string().min(1),
  /** An invitation, sent along as a calendar part (RFC 6047) and as a file. */
  calendar: z
    .strictObject({
      method: z.enum(['REQUEST', 'CANCEL']),
      content: z.string().startsWith('BEGIN:VCALENDAR'),
      filename: z.string().regex(/^[A-Za-z0-9._-]{1,80}\.ics$/),
    })
    .optional(),
  /** Stays the same for one delivery, however often it is tried. */
  messageId: z.string().regex(/^<[^\s<>@]{1,200}@[^\s<>@]{1,200}>$/, 'must be <unique@domain>'),
  headers: z.record(headerName, oneLine.max(900)).optional(),
  /** Date of the message; the present moment when absent. */
  date: z.date().optional(),
});

export type MailMessage = z.infer<typeof mailMessageSchema>;
export type Mailbox = z.infer<typeof mailbox>;

/** Checks a sender or recipient. Throws `invalid-input`. */
export function parseMailbox(value: unknown, field: string): Mailbox {
  const read = mailbox.safeParse(value);
  if (!read.success) throw new DryspellError('invalid-input', { field, expected: 'one mail address' });
  return read.data;
}

/** Checks a mail. Throws `invalid-input` naming the fields, without their contents. */
export function parseMailMessage(value: unknown): MailMessage {
  const read = mailMessageSchema.safeParse(value);
  if (read.success) return read.data;
  throw new DryspellError('invalid-input', {
    fields: read.error.issues.map((issue) => ({ field: issue.path.join('.'), expected: issue.message })),
  });
}

/**
 * The whole message as bytes with CRLF line ends: text and HTML as alternatives and, if there is one, the invitation
 * as a third alternative of type `text/calendar; method=...` (the method must equal the METHOD inside, RFC 6047
 * section 2.4) and once more as a file.
 */
export async function buildMime(from: Mailbox, message: MailMessage): Promise<Buffer> {
  if (message.calendar && !message.calendar.content.includes(`\r\nMETHOD:${message.calendar.method}\r\n`)) {
    throw new DryspellError('invalid-input', {
      field: 'calendar.content',
      expected: `METHOD:${message.calendar.method}`,
    });
  }
  const composer = new MailComposer({
    from: named(from),
    to: named(message.to),
    replyTo: message.replyTo ? named(message.replyTo) : undefined,
    subject: message.subject,
    text: message.text,
    html: message.html,
    icalEvent: message.calendar,
    messageId: message.messageId,
    date: message.date,
    // RFC 3834 section 5: keeps out-of-office robots from answering a program.
    headers: { 'Auto-Submitted': 'auto-generated', ...message.headers },
    disableFileAccess: true,
    disableUrlAccess: true,
    newline: 'win',
  });
  return composer.compile().build();
}

function named(box: Mailbox): { name: string; address: string } {
  return { name: box.name ?? '', address: box.address };
}
