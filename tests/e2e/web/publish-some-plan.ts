import type { APIRequestContext, Browser } from 'playwright-core';
import { MANAGER, type RunningProgram } from './running-program.ts';

/** By the API, as any program may: signs in, plans for a moment, publishes. */
export async function publishSomePlan(program: RunningProgram, browser: Browser): Promise<void> {
  const context = await browser.newContext();
  try {
    await publishBy(program, context.request);
  } finally {
    await context.close();
  }
}

async function publishBy(program: RunningProgram, http: APIRequestContext): Promise<void> {
  const token = (await program.signInLink(MANAGER)).split('/').at(-1) as string;
  const api = `${program.url}/api/v1`;
  const session = (await (await http.post(`${api}/sessions`, { data: { token } })).json()) as {
    token: string;
  };
  const headers = { authorization: `Bearer ${session.token}` };
  const season = `${api}/seasons/${program.season}`;
  const asked = await http.post(`${season}/plan-runs`, { headers, data: { iterations: 200, seed: 1 } });
  const { id } = (await asked.json()) as { id: string };
  let planId: string | null = null;
  while (planId === null) {
    await new Promise((resolve) => setTimeout(resolve, 500));
    const run = (await (await http.get(`${season}/plan-runs/${id}`, { headers })).json()) as {
      state: string;
      planId: string | null;
    };
    if (run.state === 'failed') throw new Error(`planning failed: ${JSON.stringify(run)}`);
    ({ planId } = run);
  }
  const plan = await http.get(`${season}/plans/${planId}`, { headers });
  const published = await http.post(`${season}/plans/${planId}/publish`, {
    headers: {
      ...headers,
      'if-match': plan.headers()['etag'] as string,
      'idempotency-key': crypto.randomUUID(),
    },
    data: { seasonChangesSeen: 0 },
  });
  if (!published.ok()) throw new Error(`publishing failed: ${await published.text()}`);
}
