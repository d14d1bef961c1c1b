/** A ZIP file (APPNOTE 6.3: stored and deflated entries, no ZIP64) that is read with its sizes checked beforehand. */
import { crc32, inflateRawSync } from 'node:zlib';
import { UnreadableSheet } from '../sheet-fault.ts';
import type { SheetLimits } from '../sheet-limits.ts';

interface Entry {
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly crc: number;
  readonly packedBytes: number;
  readonly unpackedBytes: number;
  readonly offset: number;
}

const END_SIGNATURE = 0x06054b50;
const CENTRAL_SIGNATURE = 0x02014b50;
const LOCAL_SIGNATURE = 0x04034b50;
const END_BYTES = 22;
const ENCRYPTED_FLAG = 1;

const damaged = (what: string): UnreadableSheet =>
  new UnreadableSheet(
    'cannot-be-read',
    `The workbook is damaged or cut off: ${what}.`,
    'a whole .xlsx workbook',
  );

export class ZipPackage {
  private readonly bytes: Buffer;
  private readonly limits: SheetLimits;
  private readonly entries = new Map<string, Entry>();
  private unpackedSoFar = 0;

  /** Reads the list of entries; nothing is unpacked yet. */
  constructor(bytes: Uint8Array, limits: SheetLimits) {
    this.bytes = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.limits = limits;
    const { count, offset } = this.end();
    let position = offset;
    for (let index = 0; index < count; index += 1) position = this.readCentralEntry(position);
  }

  has(name: string): boolean {
    return this.entries.has(nameOf(name));
  }

  /** The bytes of one entry, unpacked and held against its checksum; undefined when there is no such entry. */
  read(name: string): Uint8Array | undefined {
    const entry = this.entries.get(nameOf(name));
    if (!entry) return undefined;
    if (entry.flags & ENCRYPTED_FLAG) {
      const message = 'The workbook is protected by a password.';
      throw new UnreadableSheet('cannot-be-read', message, 'a workbook without a password');
    }
    this.unpackedSoFar += entry.unpackedBytes;
    if (this.unpackedSoFar > this.limits.unpackedBytes) {
      const message = `The workbook would take more than ${this.limits.unpackedBytes} bytes unpacked.`;
      throw new UnreadableSheet('too-large', message, `at most ${this.limits.unpackedBytes} bytes unpacked`);
    }
    const unpacked = this.unpack(entry);
    if (unpacked.length !== entry.unpackedBytes || crc32(unpacked) !== entry.crc) {
      throw damaged(`${entry.name} does not have the length or checksum that it should have`);
    }
    return unpacked;
  }

  private unpack(entry: Entry): Uint8Array {
    const { bytes } = this;
    if (entry.offset + 30 > bytes.length || bytes.readUInt32LE(entry.offset) !== LOCAL_SIGNATURE) {
      throw damaged(`${entry.name} is not where it should be`);
    }
    const start =
      entry.offset + 30 + bytes.readUInt16LE(entry.offset + 26) + bytes.readUInt16LE(entry.offset + 28);
    const packed = bytes.subarray(start, start + entry.packedBytes);
    if (packed.length !== entry.packedBytes) throw damaged(`${entry.name} ends too early`);
    if (entry.method === 0) return packed;
    if (entry.method !== 8) throw damaged(`${entry.name} is packed in an unknown way (${entry.method})`);
    try {
      // An entry that unpacks to more than it says stops here, whatever it would grow to.
      return inflateRawSync(packed, { maxOutputLength: Math.max(1, entry.unpackedBytes) });
    } catch {
      throw damaged(`${entry.name} cannot be unpacked to the size that it states`);
    }
  }

  private end(): { count: number; offset: number } {
    const { bytes } = this;
    const first = Math.max(0, bytes.length - END_BYTES - 0xffff);
    for (let at = bytes.length - END_BYTES; at >= first; at -= 1) {
      if (bytes.readUInt32LE(at) !== END_SIGNATURE) continue;
      const count = bytes.readUInt16LE(at + 10);
      const offset = bytes.readUInt32LE(at + 16);
      if (count === 0xffff || offset === 0xffffffff) {
        throw new UnreadableSheet(
          'too-large',
          'The workbook is a ZIP64 file.',
          'a workbook of less than 4 GB',
        );
      }
      return { count, offset };
    }
    throw damaged('the list of its parts at the end is missing');
  }

  private readCentralEntry(at: number): number {
    const { bytes } = this;
    if (at + 46 > bytes.length || bytes.readUInt32LE(at) !== CENTRAL_SIGNATURE) {
      throw damaged('the list of its parts is broken');
    }
    const nameBytes = bytes.readUInt16LE(at + 28);
    const name = bytes.toString('utf8', at + 46, at + 46 + nameBytes);
    if (this.entries.has(nameOf(name))) throw damaged(`it holds ${name} twice`);
    this.entries.set(nameOf(name), {
      name,
      flags: bytes.readUInt16LE(at + 8),
      method: bytes.readUInt16LE(at + 10),
      crc: bytes.readUInt32LE(at + 16),
      packedBytes: bytes.readUInt32LE(at + 20),
      unpackedBytes: bytes.readUInt32LE(at + 24),
      offset: bytes.readUInt32LE(at + 42),
    });
    return at + 46 + nameBytes + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
}

/** Part names differ from one another in more than case (ECMA-376 part 2, 6.2.2.3), and some writers use backslashes. */
function nameOf(name: string): string {
  return name.replaceAll('\\', '/').toLowerCase();
}
