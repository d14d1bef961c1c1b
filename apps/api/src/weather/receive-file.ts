import type { Database } from '../../../../libs/data/src/database.ts';
import { addImportPart } from '../../../../libs/data/src/weather/import-bytes.ts';
import { type Clock, DryspellError } from '../../../../libs/kernel/src/index.ts';

/** Bytes kept in one row. */
const PART_BYTES = 1_048_576;

/**
 * Keeps the bytes of an upload as they come, a megabyte a row; returns how many there were. Never more than one part lies in memory, and a
 * slow database slows the sender. Throws `too-large`, or what broke the stream.
 */
export async function receiveFile(
  { db, clock }: { readonly db: Database; readonly clock: Clock },
  input: { readonly importId: string; readonly stream: AsyncIterable<Uint8Array>; readonly maxBytes: number },
): Promise<number> {
  const { importId, stream, maxBytes } = input;
  let part = 0;
  let total = 0;
  let held: Uint8Array[] = [];
  let heldBytes = 0;
  const keep = async () => {
    if (heldBytes === 0) return;
    await addImportPart(db, { id: importId, part, bytes: Buffer.concat(held), now: clock.now() });
    part += 1;
    held = [];
    heldBytes = 0;
  };
  for await (const chunk of stream) {
    total += chunk.byteLength;
    if (total > maxBytes) throw new DryspellError('too-large', { maxBytes });
    held.push(chunk);
    heldBytes += chunk.byteLength;
    if (heldBytes >= PART_BYTES) await keep();
  }
  await keep();
  return total;
}
