import { Readable } from 'node:stream';
import type { Call } from './call.ts';
import { Reply } from './reply.ts';

/** How often the row is looked at, and how often a quiet stream says that it lives. */
const LOOK_MS = 700;
const HEARTBEAT_MS = 10_000;

/** A row of long work: its version grows with each change. */
interface WorkRow {
  readonly version: number;
  readonly finishedAt: unknown;
}

export interface RowEventsInput<Row extends WorkRow> {
  readonly read: () => Promise<Row>;
  /** What a watcher is shown of it. */
  readonly shown: (row: Row) => unknown;
  /** Aborted when the server ends. */
  readonly ending: AbortSignal;
}

/**
 * Answers with server-sent events about one row of long work: each new version of it as an event "run", then the end. The row is looked at again and
 * again, so that nothing is missed however many processes there are; a watcher that breaks off ends the looking.
 */
export function rowEvents<Row extends WorkRow>(call: Call, input: RowEventsInput<Row>): Reply {
  const lastEventId = call.request.headers['last-event-id'];
  const afterVersion =
    typeof lastEventId === 'string' && /^\d{1,9}$/.test(lastEventId) ? Number(lastEventId) : 0;
  const stream = Readable.from(events(input, afterVersion), { objectMode: false, encoding: 'utf8' });
  return Reply.raw(200, 'text/event-stream; charset=utf-8', stream, {
    'cache-control': 'no-store',
    // Proxies that collect answers would hold the events back.
    'x-accel-buffering': 'no',
  });
}

async function* events<Row extends WorkRow>(
  { read, shown, ending }: RowEventsInput<Row>,
  afterVersion: number,
): AsyncGenerator<string> {
  let seen = afterVersion;
  let quietMs = 0;
  yield `retry: 2000\n\n`;
  while (!ending.aborted) {
    const row = await read();
    if (row.version > seen) {
      seen = row.version;
      quietMs = 0;
      yield `id: ${row.version}\nevent: run\ndata: ${JSON.stringify(shown(row))}\n\n`;
    } else if (quietMs >= HEARTBEAT_MS) {
      quietMs = 0;
      yield ': still here\n\n';
    }
    if (row.finishedAt !== null) return;
    await pause(LOOK_MS, ending);
    quietMs += LOOK_MS;
  }
}

function pause(durationMs: number, ending: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const done = () => {
      clearTimeout(timer);
      ending.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, durationMs);
    ending.addEventListener('abort', done, { once: true });
  });
}
