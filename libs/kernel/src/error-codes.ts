/**
 * What sort of trouble a code stands for. An edge maps the kind to its own answer (an HTTP status, an exit code);
 * the code itself never changes once people rely on it.
 */
export type ErrorKind =
  | 'input' // what was handed in cannot be used; the caller can mend it
  | 'sign-in' // nobody is known to be asking
  | 'permission' // known, and not allowed
  | 'missing' // there is no such thing, or the asker may not know of it
  | 'gone' // it was there and is used up or has expired
  | 'conflict' // it clashes with what is stored now
  | 'limit' // too often or too large
  | 'unavailable' // something outside does not answer; trying later may help
  | 'fault'; // a mistake in this program

interface ErrorEntry {
  readonly kind: ErrorKind;
  /** One plain sentence with the next step. */
  readonly summary: string;
}

const entry = (kind: ErrorKind, summary: string): ErrorEntry => ({ kind, summary });

/** The closed table of error codes. A new code is a new row here and nowhere else. */
export const ERROR_CODES = {
  'invalid-input': entry(
    'input',
    'Something in the request cannot be used. Mend the named fields and send it again.',
  ),
  'unknown-zone': entry(
    'input',
    'This is not a time zone name of the IANA data. Use one such as America/Halifax.',
  ),
  'invalid-date': entry('input', 'This is not a calendar date. Write it as YYYY-MM-DD.'),
  'invalid-instant': entry('input', 'This is not an instant in UTC. Write it as YYYY-MM-DDTHH:MM:SSZ.'),
  'season-file-invalid': entry(
    'input',
    'The season file has faults. Mend the listed rows and read it again.',
  ),
  'not-signed-in': entry('sign-in', 'Sign in first: ask for a sign-in link.'),
  'not-allowed': entry('permission', 'Your role may not do this. Ask the operations manager.'),
  'not-found': entry('missing', 'There is no such thing here. Check the address or the key.'),
  'link-not-valid': entry(
    'gone',
    'This link has been used, was withdrawn or has expired. Ask for a new one.',
  ),
  'version-conflict': entry(
    'conflict',
    'Somebody else changed this in the meantime. Load it again and repeat the change.',
  ),
  'already-exists': entry(
    'conflict',
    'There is one with this key already. Choose another key or change that one.',
  ),
  'state-conflict': entry(
    'conflict',
    'This cannot be done in the present state. Load it again and see what is possible.',
  ),
  overlap: entry(
    'conflict',
    'Two things would claim the same person, crew, lift or equipment on the same days. Change one of them.',
  ),
  'in-use': entry(
    'conflict',
    'Something else still refers to this, so it cannot be removed. Remove or change that first.',
  ),
  'plan-not-valid': entry(
    'conflict',
    'The plan breaks a hard rule, so it was not kept. See the listed breaches.',
  ),
  'too-many-requests': entry('limit', 'Too many requests. Wait a little and try again.'),
  'too-large': entry('limit', 'This is larger than is accepted. Send less at once.'),
  unavailable: entry('unavailable', 'A service that is needed does not answer. Try again later.'),
  'not-configured': entry('unavailable', 'This server has not been set up for that. Ask whoever runs it.'),
  'migration-changed': entry(
    'fault',
    'A database change that was applied differs from its file. Put the file back as it was released.',
  ),
  'migration-failed': entry(
    'fault',
    'A change of the database failed. Restore the backup or mend the cause, mark the change as rolled back, start again.',
  ),
  internal: entry(
    'fault',
    'Something went wrong in the program. It has been logged; try again or report it.',
  ),
} as const satisfies Record<string, ErrorEntry>;

/** A code of the closed table. */
export type ErrorCode = keyof typeof ERROR_CODES;

/** Whether a text is a code of the closed table. */
export function isErrorCode(text: string): text is ErrorCode {
  return Object.hasOwn(ERROR_CODES, text);
}
