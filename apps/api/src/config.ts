import { z } from 'zod';
import { DryspellError } from '../../../libs/kernel/src/index.ts';

const wholeNumber = (fallback: number, min: number, max: number) =>
  z.coerce.number().int().min(min).max(max).default(fallback);

const environmentSchema = z.object({
  HOST: z.string().min(1).default('127.0.0.1'),
  PORT: wholeNumber(8080, 0, 65535),
  DATABASE_URL: z.string().regex(/^postgres(?:ql)?:\/\//),
  REDIS_URL: z
    .string()
    .regex(/^rediss?:\/\//)
    .optional(),
  /** What people type or click; decides links in mail, the cookie's Secure flag and the same-origin check. */
  DRYSPELL_PUBLIC_URL: z.url({ protocol: /^https?$/ }).optional(),
  /** Signs the hidden tokens of forms and the cursors of lists. */
  DRYSPELL_SECRET: z.string().min(32),
  DRYSPELL_TRUST_PROXY: z.enum(['true', 'false']).default('false'),
  DRYSPELL_LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'silent']).default('info'),
  DRYSPELL_WEB_DIR: z.string().min(1).optional(),
  DRYSPELL_RATE_PER_MIN: wholeNumber(600, 1, 1_000_000),
  DRYSPELL_RATE_SIGN_IN_PER_MIN: wholeNumber(10, 1, 1_000_000),
  DRYSPELL_RATE_LINK_PER_MIN: wholeNumber(60, 1, 1_000_000),
  DRYSPELL_BODY_MAX_BYTES: wholeNumber(1_000_000, 1000, 50_000_000),
  DRYSPELL_SESSION_DAYS: wholeNumber(30, 1, 365),
  DRYSPELL_SIGN_IN_LINK_MIN: wholeNumber(30, 1, 24 * 60),
});

/** Settings of the API process, checked once at the start. */
export interface ApiConfig {
  readonly host: string;
  readonly port: number;
  readonly databaseUrl: string;
  readonly redisUrl: string | null;
  /** Origin without a trailing slash, such as https://plan.example.org; null: the address of each request. */
  readonly publicUrl: string | null;
  readonly secret: string;
  readonly trustProxy: boolean;
  readonly logLevel: string;
  readonly webDir: string | null;
  readonly ratePerMin: { readonly general: number; readonly signIn: number; readonly link: number };
  readonly bodyMaxBytes: number;
  readonly sessionDays: number;
  readonly signInLinkMin: number;
}

/** Reads the settings from the environment. Throws `invalid-input` naming each variable that is wrong, never its value. */
export function readConfig(environment: Readonly<Record<string, string | undefined>>): ApiConfig {
  const present = Object.fromEntries(
    Object.entries(environment).filter(([, value]) => value !== undefined && value !== ''),
  );
  const parsed = environmentSchema.safeParse(present);
  if (!parsed.success) {
    const wrong = parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.code}`);
    throw new DryspellError('invalid-input', { environment: wrong });
  }
  const env = parsed.data;
  return {
    host: env.HOST,
    port: env.PORT,
    databaseUrl: env.DATABASE_URL,
    redisUrl: env.REDIS_URL ?? null,
    publicUrl: env.DRYSPELL_PUBLIC_URL ? new URL(env.DRYSPELL_PUBLIC_URL).origin : null,
    secret: env.DRYSPELL_SECRET,
    trustProxy: env.DRYSPELL_TRUST_PROXY === 'true',
    logLevel: env.DRYSPELL_LOG_LEVEL,
    webDir: env.DRYSPELL_WEB_DIR ?? null,
    ratePerMin: {
      general: env.DRYSPELL_RATE_PER_MIN,
      signIn: env.DRYSPELL_RATE_SIGN_IN_PER_MIN,
      link: env.DRYSPELL_RATE_LINK_PER_MIN,
    },
    bodyMaxBytes: env.DRYSPELL_BODY_MAX_BYTES,
    sessionDays: env.DRYSPELL_SESSION_DAYS,
    signInLinkMin: env.DRYSPELL_SIGN_IN_LINK_MIN,
  };
}
