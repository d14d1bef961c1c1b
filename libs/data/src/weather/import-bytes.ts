import { DryspellError, type Instant } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';

/** Keeps the next bytes of a file. Throws `state-conflict` when the run no longer takes any. */
export async function addImportPart(
  db: Database,
  input: { readonly id: string; readonly part: number; readonly bytes: Uint8Array; readonly now: Instant },
): Promise<void> {
  const { id, part, bytes, now } = input;
  await db.transaction(
    async (tx) => {
      const { count } = await tx.weatherImport.updateMany({
        where: { id, state: 'receiving' },
        data: { bytesDone: { increment: bytes.byteLength }, heartbeatAt: toDate(now) },
      });
      if (count === 0) throw new DryspellError('state-conflict', { weatherImport: id });
      await tx.weatherImportPart.create({ data: { importId: id, part, bytes: Uint8Array.from(bytes) } });
    },
    { isolation: 'readCommitted' },
  );
}

/** The bytes of a file, part by part in order. */
export async function* importBytes(db: Database, id: string): AsyncGenerator<Uint8Array> {
  for (let part = 0; ; part += 1) {
    const row = await db.client.weatherImportPart.findUnique({
      where: { importId_part: { importId: id, part } },
    });
    if (!row) return;
    yield row.bytes;
  }
}
