import { type DestinationStream, type Logger, pino } from 'pino';

export type Log = Logger;

/** Anything that looks like the secret part of an address, a link or a sign-in. */
const SECRETS: readonly [RegExp, string][] = [
  [/\b([a-z][a-z0-9+.-]*:\/\/)[^\s/@:"]*:[^\s/@"]*@/gi, '$1***@'],
  [/(\/(?:l|sign-in|calendar)\/)[A-Za-z0-9_-]{16,}/g, '$1***'],
  [/\b(AUTH (?:PLAIN|LOGIN)) [A-Za-z0-9+/=]+/g, '$1 ***'],
];

/** A text as it may be logged. */
export function withoutSecrets(text: string): string {
  return SECRETS.reduce((masked, [pattern, by]) => masked.replace(pattern, by), text);
}

/** JSON lines; secrets in known fields and in any text are masked. */
export function createLog(level: string, to?: DestinationStream): Log {
  const options = {
    level,
    base: { part: 'worker' },
    timestamp: pino.stdTimeFunctions.isoTime,
    redact: {
      paths: [
        'token',
        '*.token',
        'email',
        '*.email',
        'address',
        '*.address',
        'password',
        '*.password',
        'secret',
      ],
      censor: '***',
    },
    hooks: { streamWrite: withoutSecrets },
  };
  return to ? pino(options, to) : pino(options);
}
