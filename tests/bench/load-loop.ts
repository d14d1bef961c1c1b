import http from 'node:http';
import { median, rounded } from './bench-result.ts';

export interface LoadTarget {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
}

export interface LoadResult {
  readonly perSecond: number;
  readonly medianMs: number;
  readonly slowMs: number;
}

const CONNECTIONS = 16;

/** Asks over kept-alive connections, each for the next as soon as it has its answer. Rejects at the first answer that is not 200. */
export async function load({ url, headers }: LoadTarget, seconds: number): Promise<LoadResult> {
  const agent = new http.Agent({ keepAlive: true, maxSockets: CONNECTIONS });
  const tookMs: number[] = [];
  const startedMs = performance.now();
  const endMs = startedMs + seconds * 1000;
  const one = async (): Promise<void> => {
    while (performance.now() < endMs) {
      const askedMs = performance.now();
      await ask(url, headers, agent);
      tookMs.push(performance.now() - askedMs);
    }
  };
  try {
    await Promise.all(Array.from({ length: CONNECTIONS }, one));
  } finally {
    agent.destroy();
  }
  const lastedSec = (performance.now() - startedMs) / 1000;
  const sorted = tookMs.sort((a, b) => a - b);
  return {
    perSecond: rounded(tookMs.length / lastedSec),
    medianMs: rounded(median(sorted)),
    slowMs: rounded(sorted[Math.floor(sorted.length * 0.99)] as number),
  };
}

/** One answer, read to its end. */
export function ask(
  url: string,
  headers: Readonly<Record<string, string>>,
  agent?: http.Agent,
): Promise<string> {
  return new Promise((resolve, reject) => {
    const request = http.get(url, { headers, ...(agent ? { agent } : {}) }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => void chunks.push(chunk));
      response.on('error', reject);
      response.on('end', () => {
        const body = Buffer.concat(chunks).toString('utf8');
        if (response.statusCode === 200) resolve(body);
        else reject(new Error(`${url} answered ${response.statusCode}: ${body.slice(0, 300)}`));
      });
    });
    request.on('error', reject);
  });
}
