import fs from 'node:fs';
import path from 'node:path';
import { PlainError } from '../program/plain-error.ts';

/** What is said of a file that cannot be read, with the next step. */
function cannotRead(file: string, what: string, error: unknown): PlainError {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'ENOENT' || code === 'ENOTDIR')
    return new PlainError(`there is no ${what} at ${file}. Check the path.`);
  if (code === 'EACCES' || code === 'EPERM')
    return new PlainError(`the ${what} ${file} may not be read by this user. Change its permissions.`);
  return new PlainError(`the ${what} ${file} cannot be read: ${(error as Error).message}`);
}

/** What lies at a path. Throws PlainError when there is nothing. */
export function statNamed(file: string, what: string): fs.Stats {
  try {
    return fs.statSync(file);
  } catch (error) {
    throw cannotRead(file, what, error);
  }
}

/** The bytes of a file that the user named. Throws PlainError for what is no file, too large or closed to this user. */
export function readNamedBytes(file: string, what: string, mostBytes: number): Buffer {
  const stats = statNamed(file, what);
  if (stats.isDirectory()) throw new PlainError(`${file} is a folder; name the ${what} itself.`);
  if (!stats.isFile()) throw new PlainError(`${file} is no plain file; name the ${what} itself.`);
  if (stats.size > mostBytes) {
    throw new PlainError(
      `${file} has ${stats.size} bytes; a ${what} has at most ${mostBytes}. Is it the right file?`,
    );
  }
  try {
    return fs.readFileSync(file);
  } catch (error) {
    throw cannotRead(file, what, error);
  }
}

/** The text of a file in UTF-8, without a byte order mark. Throws PlainError as `readNamedBytes`, and for other encodings. */
export function readNamedText(file: string, what: string, mostBytes: number): string {
  const bytes = readNamedBytes(file, what, mostBytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new PlainError(`${file} is not text in UTF-8, so it is no ${what}. Save it as UTF-8.`);
  }
}

/** The value of a JSON file. Throws PlainError with line and column where it stops being JSON. */
export function readNamedJson(file: string, what: string, mostBytes: number): unknown {
  const text = readNamedText(file, what, mostBytes);
  if (text.trim() === '') throw new PlainError(`${file} is empty; a ${what} is JSON.`);
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new PlainError(
      `${path.basename(file)} is not JSON${placeIn(text, error as Error)}. A ${what} is one JSON object.`,
    );
  }
}

function placeIn(text: string, error: Error): string {
  const at = /at position (\d+)/.exec(error.message);
  if (!at) return `: it ends too early`;
  const before = text.slice(0, Number(at[1])).split('\n');
  return ` at line ${before.length}, column ${(before.at(-1) as string).length + 1}: ${error.message.replace(/ in JSON at position.*$/u, '')}`;
}
