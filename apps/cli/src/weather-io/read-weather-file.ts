import fs from 'node:fs';
import path from 'node:path';
import { type RecordPlace, type TableFacts, weatherFileReader } from '../../../../libs/intake/src/index.ts';
import { lineFeeder, type Reading } from '../../../../libs/weather/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import { statNamed } from '../season-input/read-named-file.ts';

export interface WeatherFileInput {
  readonly file: string;
  readonly format: 'auto' | 'epw' | 'csv';
  readonly target: RecordPlace;
  readonly table: TableFacts;
  readonly keepGood: boolean;
  /** Told how far it is, at most once in ten parts of the file. */
  readonly say: (line: string) => void;
}

export interface ReadFile {
  readonly lines: number;
  readonly reading: Reading;
}

const PIECE_BYTES = 1_048_576;

/** Reads a weather file piece by piece; only its columns of numbers lie in memory. Throws PlainError for what is no file. */
export async function readWeatherFile(input: WeatherFileInput): Promise<ReadFile> {
  const { file, format, target, table, keepGood, say } = input;
  const stats = statNamed(file, 'weather file');
  if (stats.isDirectory()) throw new PlainError(`${file} is a folder; name the weather file itself.`);
  const reader = weatherFileReader({ format, target, table });
  const feeder = lineFeeder(reader);
  const decoder = new TextDecoder('utf-8');
  let bytes = 0;
  let saidTenths = 0;
  try {
    for await (const piece of fs.createReadStream(file, { highWaterMark: PIECE_BYTES })) {
      feeder.feed(decoder.decode(piece as Buffer, { stream: true }));
      bytes += (piece as Buffer).byteLength;
      const tenths = stats.size === 0 ? 10 : Math.floor((bytes / stats.size) * 10);
      if (tenths > saidTenths && tenths < 10)
        say(`${path.basename(file)}: ${tenths * 10} % read, ${reader.lines} lines`);
      saidTenths = tenths;
    }
  } catch (error) {
    // Only the disk is spoken of here; what is wrong with the options is for the caller.
    if ((error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new PlainError(`the weather file ${file} cannot be read: ${(error as Error).message}`);
  }
  feeder.feed(decoder.decode());
  feeder.end();
  return { lines: reader.lines, reading: reader.finish({ keepGood }) };
}
