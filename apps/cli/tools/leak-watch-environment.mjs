// Jest's own sign of a forgotten socket, timer or child is a worker that has not ended half a second after its last
// test: on a busy machine that accuses the innocent, and it names no file. This one looks after every spec file.
import { TestEnvironment } from 'jest-environment-node';

/** Sockets that were told to end and children that were told to stop need a moment; so does an idle connection. */
const PATIENCE_MS = 10_000;
const LOOK_EVERY_MS = 50;
/** No pipes: the output of the process itself is one, opened when something is first written to it. */
const WATCHED = ['TCPSocketWrap', 'TCPServerWrap', 'ProcessWrap', 'Timeout', 'Worker', 'UDPWrap'];

function countResources() {
  const counts = new Map(WATCHED.map((kind) => [kind, 0]));
  // Lists what keeps the process from ending; timers and sockets that were unref'd are not in it.
  for (const kind of process.getActiveResourcesInfo())
    if (counts.has(kind)) counts.set(kind, counts.get(kind) + 1);
  return counts;
}

const leftOver = (before) =>
  [...countResources()].flatMap(([kind, count]) =>
    count > before.get(kind) ? [`${count - before.get(kind)} ${kind}`] : [],
  );

export default class LeakWatchEnvironment extends TestEnvironment {
  async setup() {
    await super.setup();
    this.before = countResources();
  }

  async teardown() {
    await super.teardown();
    const until = Date.now() + PATIENCE_MS;
    for (let left = leftOver(this.before); left.length > 0; left = leftOver(this.before)) {
      if (Date.now() > until)
        throw new Error(
          `the specs of this file left something open: ${left.join(', ')}. Stop it in afterAll.`,
        );
      await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
    }
  }
}
