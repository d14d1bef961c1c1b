import fs from 'node:fs';
import path from 'node:path';
import { PlainError } from '../program/plain-error.ts';

/**
 * Throws PlainError when a plan cannot be written there: said before the search, not after. Only a file that holds a plan is replaced.
 */
export function requirePlanTarget(out: string): void {
  const folder = path.dirname(path.resolve(out));
  const stats = fs.statSync(out, { throwIfNoEntry: false });
  if (stats?.isDirectory()) throw new PlainError(`--out ${out} is a folder; name a file in it`);
  if (stats && !holdsPlan(out)) {
    throw new PlainError(
      `--out ${out} exists and is no plan file; it is left as it is. Choose another name.`,
    );
  }
  try {
    fs.accessSync(folder, fs.constants.W_OK);
  } catch {
    throw new PlainError(
      `nothing can be written to ${folder}. Make the folder, or choose another one with --out.`,
    );
  }
}

/** Writes a file whole or not at all: beside its place first, then renamed onto it. Throws PlainError when it cannot. */
export function writeWholeFile(file: string, text: string): void {
  const beside = path.join(path.dirname(path.resolve(file)), `.${path.basename(file)}.${process.pid}.part`);
  try {
    fs.writeFileSync(beside, text, { flag: 'wx' });
    fs.renameSync(beside, file);
  } catch (error) {
    fs.rmSync(beside, { force: true });
    throw new PlainError(`${file} could not be written: ${(error as Error).message}`);
  }
}

function holdsPlan(file: string): boolean {
  try {
    const content: unknown = JSON.parse(fs.readFileSync(file, 'utf8'));
    return (content as { format?: unknown } | null)?.format === 'dryspell-plan';
  } catch {
    return false; // not JSON, or not for this user: then it is not ours to replace
  }
}
