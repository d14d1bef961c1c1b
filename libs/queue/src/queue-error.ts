/** Why the queue refused or could not do something; a closed list. */
export type QueueErrorCode =
  | 'queue-unreachable'
  | 'queue-closed'
  | 'queue-handlers-incomplete'
  | 'queue-job-unknown'
  | 'queue-payload-invalid'
  | 'queue-batch-too-large';

/** A refusal of the queue, with a code that never changes and a sentence for the log. */
export class QueueError extends Error {
  override readonly name = 'QueueError';
  readonly code: QueueErrorCode;

  constructor(code: QueueErrorCode, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause });
    this.code = code;
  }
}

/** One line for a log or a dead job: message and, where there is one, the system or SMTP code. Never a stack. */
export function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const code = (error as { code?: unknown }).code;
  const text = error.message || error.name;
  return typeof code === 'string' && !text.includes(code) ? `${text} (${code})` : text;
}
