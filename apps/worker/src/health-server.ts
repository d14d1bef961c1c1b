import http from 'node:http';
import type { AddressInfo } from 'node:net';

/** What the ready page shows; it is ready when every check is true. */
export interface Readiness {
  readonly checks: Readonly<Record<string, boolean>>;
  readonly facts: Readonly<Record<string, unknown>>;
}

export interface HealthServer {
  readonly port: number;
  close(): Promise<void>;
}

/** `/live`: the process answers. `/ready`: it can do its work (503 otherwise). On 127.0.0.1 only, nothing secret in it. */
export async function startHealthServer(
  port: number,
  readiness: () => Promise<Readiness>,
): Promise<HealthServer> {
  const server = http.createServer((request, response) => {
    const answer = (status: number, body: object) => {
      response.writeHead(status, { 'content-type': 'application/json', 'cache-control': 'no-store' });
      response.end(`${JSON.stringify(body)}\n`);
    };
    if (request.method !== 'GET') return answer(405, { error: 'Only GET is answered here.' });
    if (request.url === '/live') return answer(200, { live: true });
    if (request.url !== '/ready') return answer(404, { error: 'Ask for /live or /ready.' });
    readiness().then(
      ({ checks, facts }) => {
        const ready = Object.values(checks).every(Boolean);
        answer(ready ? 200 : 503, { ready, checks, ...facts });
      },
      () => answer(503, { ready: false }),
    );
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
  return {
    port: (server.address() as AddressInfo).port,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
