import fs from 'node:fs';
import path from 'node:path';
import { PlainError } from '../program/plain-error.ts';

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
