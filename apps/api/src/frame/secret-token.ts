import { createHash, createHmac, randomBytes, timingSafeEqual } from 'node:crypto';

/** A fresh secret: 32 random bytes as 43 characters of base64url. */
export const newSecret = (): string => randomBytes(32).toString('base64url');

/** What is stored of a secret: its SHA-256 in lower-case hex. The secret itself is never kept. */
export const hashSecret = (secret: string): string => createHash('sha256').update(secret).digest('hex');

/** A keyed mark (HMAC-SHA-256) of some parts, for tokens that nobody else can make. */
export function sign(key: string, ...parts: readonly string[]): string {
  const mac = createHmac('sha256', key);
  // The length goes first so that ("ab", "c") and ("a", "bc") differ.
  for (const part of parts) mac.update(`${Buffer.byteLength(part)}:${part}`);
  return mac.digest('base64url');
}

/** Compares two marks in a time that does not tell where they differ. */
export function sameMark(left: string, right: string): boolean {
  const a = Buffer.from(left);
  const b = Buffer.from(right);
  return a.length === b.length && timingSafeEqual(a, b);
}
