import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { hashSecret, newSecret } from '../../../apps/api/src/frame/secret-token.ts';
import { linkToken } from '../../../libs/data/src/action-link.repository.ts';
import { createApiToken } from '../../../libs/data/src/api-token.repository.ts';
import { type ApiStage, actor, openApiStage, SECRET, signInToken } from './api-stage.ts';

const markOf = (page: string) => /name="mark" value="([^"]+)"/.exec(page)?.[1] ?? '';

describe('signing in', () => {
  let stage: ApiStage;
  beforeAll(async () => {
    stage = await openApiStage();
  }, 120_000);
  afterAll(async () => {
    await stage.close();
  });
  const email = 'manager@firm.example.org';

  it('shows a page that changes nothing, and signs in by its button, once', async () => {
    const token = await signInToken(stage, email);
    for (let i = 0; i < 3; i += 1)
      expect((await stage.call('GET', `/sign-in/${token}`, { as: null })).status).toBe(200);
    const page = await stage.call('GET', `/sign-in/${token}`, { as: null });
    expect(page.text).not.toContain('<script');
    expect(page.headers['referrer-policy']).toBe('no-referrer');
    const form = { mark: markOf(page.text) };
    const done = await stage.call('POST', `/sign-in/${token}`, { as: null, form });
    expect([done.status, done.headers['location']]).toEqual([303, '/app/']);
    const cookie = String(done.headers['set-cookie']);
    expect(cookie).toMatch(
      /^dryspell_session=[\w-]{43}; Path=\/; Max-Age=\d+; HttpOnly; SameSite=Lax; Secure$/,
    );
    const me = await stage.call('GET', '/api/v1/me', {
      as: null,
      headers: { cookie: cookie.split(';')[0] as string },
    });
    expect(me.body).toMatchObject({ role: 'manager', email, organisation: { demo: true } });
    const again = await stage.call('POST', `/sign-in/${token}`, { as: null, form });
    expect(again.status).toBe(410);
    expect(again.headers['content-type']).toContain('text/html');
    expect(again.text).toContain('What to do');
  });

  it('takes no form that our own page did not make', async () => {
    const token = await signInToken(stage, email);
    expect((await stage.call('POST', `/sign-in/${token}`, { as: null, form: { mark: 'x' } })).status).toBe(
      403,
    );
    const page = await stage.call('GET', `/sign-in/${token}`, { as: null });
    const headers = { 'sec-fetch-site': 'cross-site' };
    expect(
      (
        await stage.call('POST', `/sign-in/${token}`, {
          as: null,
          form: { mark: markOf(page.text) },
          headers,
        })
      ).status,
    ).toBe(403);
  });

  it('gives a program a token that ends when it says so', async () => {
    const token = await signInToken(stage, email);
    const session = await stage.call('POST', '/api/v1/sessions', { as: null, body: { token } });
    expect(session.status).toBe(201);
    const as = session.body.token as string;
    expect((await stage.call('GET', '/api/v1/me', { as })).status).toBe(200);
    expect((await stage.call('DELETE', '/api/v1/sessions/current', { as })).status).toBe(204);
    expect((await stage.call('GET', '/api/v1/me', { as })).status).toBe(401);
    expect((await stage.call('POST', '/api/v1/sessions', { as: null, body: { token } })).status).toBe(410);
  });

  it('lets one of two win who use a link at the same moment', async () => {
    const token = await signInToken(stage, email);
    const answers = await Promise.all(
      [1, 2].map(() => stage.call('POST', '/api/v1/sessions', { as: null, body: { token } })),
    );
    expect(answers.map((answer) => answer.status).sort()).toEqual([201, 410]);
  });

  it('says the same to known and unknown addresses, and writes mail to the known one only', async () => {
    const ask = (address: string) =>
      stage.call('POST', '/api/v1/sign-in-links', { as: null, body: { email: address } });
    const known = await ask(email.toUpperCase());
    const unknown = await ask('nobody@example.org');
    expect([known.status, known.text]).toEqual([unknown.status, unknown.text]);
    const mails = await stage.db.client.delivery.findMany({ where: { template: 'sign-in-link' } });
    expect(mails.map((mail) => mail.address)).toEqual([email]);
    const [link] = (mails[0]!.data as { links: { id: string; purpose: string }[] }).links;
    expect(link?.purpose).toBe('sign-in');
    // The secret itself is in no row: it is derived when the mail is written.
    const token = linkToken(SECRET, link!.id);
    expect(JSON.stringify(mails)).not.toContain(token);
    expect((await stage.call('GET', `/sign-in/${token}`, { as: null })).status).toBe(200);
  });

  it('refuses an expired link', async () => {
    const token = await signInToken(stage, email);
    stage.clock.advanceMin(25 * 60);
    expect((await stage.call('GET', `/sign-in/${token}`, { as: null })).status).toBe(410);
    stage.clock.advanceMin(-25 * 60);
  });

  it('shuts an account with its sessions; nobody shuts the own', async () => {
    const invited = await stage.call('POST', '/api/v1/users', {
      body: { name: 'Second', email: 'second@firm.example.org', role: 'manager' },
    });
    expect(invited.status).toBe(201);
    const token = await signInToken(stage, 'second@firm.example.org');
    const as = (await stage.call('POST', '/api/v1/sessions', { as: null, body: { token } })).body
      .token as string;
    const shut = (id: string, version: number) =>
      stage.call('POST', `/api/v1/users/${id}/revoke`, { headers: { 'if-match': `"${version}"` } });
    expect((await shut(invited.body.id, invited.body.version)).body.active).toBe(false);
    expect((await stage.call('GET', '/api/v1/me', { as })).status).toBe(401);
    const own = stage.firm.accounts.manager;
    expect((await shut(own.id, own.version)).status).toBe(409);
    const wrong = { name: 'X', email: 'x@example.org', role: 'crew' };
    expect((await stage.call('POST', '/api/v1/users', { body: wrong })).body.errors[0].pointer).toBe(
      '/body/subjectKey',
    );
  });

  it('knows a program by its token, which has no session to end', async () => {
    const token = newSecret();
    await createApiToken(stage.db, {
      account: stage.firm.accounts.manager,
      name: 'script',
      tokenHash: hashSecret(token),
      expiresAt: null,
      actor,
    });
    expect((await stage.call('GET', '/api/v1/me', { as: token })).status).toBe(200);
    expect((await stage.call('DELETE', '/api/v1/sessions/current', { as: token })).status).toBe(409);
  });
});

describe('limits on guessing', () => {
  it('lets an address try only so often', async () => {
    const stage = await openApiStage({ DRYSPELL_RATE_SIGN_IN_PER_MIN: '3' });
    try {
      const statuses: number[] = [];
      for (let i = 0; i < 5; i += 1) {
        statuses.push(
          (await stage.call('POST', '/api/v1/sessions', { as: null, body: { token: 'g'.repeat(43) } }))
            .status,
        );
      }
      expect(statuses).toEqual([410, 410, 410, 429, 429]);
      // Another address of the same class shares the count; the rest of the interface has its own.
      expect((await stage.call('GET', `/sign-in/${'g'.repeat(43)}`, { as: null })).status).toBe(429);
      expect((await stage.call('GET', '/api/v1/me')).status).toBe(200);
    } finally {
      await stage.close();
    }
  }, 120_000);
});
