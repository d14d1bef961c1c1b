// The manager's way through the program in a real browser, against the built API, worker and pages. The tests are steps
// of one way and run in their order.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { accessibilityFaults, openBrowser, openPage, takePicture, widthTooMuch } from './browser.ts';
import { MANAGER, type RunningProgram, startProgram } from './running-program.ts';

const LONG_MS = 240_000;
jest.setTimeout(120_000);

describe('the manager', () => {
  let program: RunningProgram;
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let faults: string[];

  beforeAll(async () => {
    program = await startProgram();
    browser = await openBrowser();
    context = await browser.newContext({
      viewport: { width: 1400, height: 900 },
      timezoneId: 'Pacific/Auckland',
    });
    ({ page, faults } = await openPage(context));
  }, LONG_MS);

  afterAll(async () => {
    await browser?.close();
    await program?.stop();
  }, LONG_MS);

  const go = async (to: string): Promise<void> => {
    await page.goto(`${program.url}/app${to}`);
    // Before it is known who is signed in, the page shows another heading.
    await page.locator('main.page h1').waitFor();
  };
  const accept = async (name: string): Promise<void> => {
    await takePicture(page, name);
    expect(await accessibilityFaults(page)).toEqual([]);
    expect(faults.splice(0)).toEqual([]);
  };

  test('who is not signed in sees the way in, by keyboard too, and a wrong link is told so', async () => {
    await page.goto(`${program.url}/app/`);
    await page.getByRole('heading', { name: 'Sign in to Dryspell' }).waitFor();
    // The browser itself notes the refused request of somebody who is not signed in.
    expect(faults.splice(0).every((fault) => fault.includes('401'))).toBe(true);
    await accept('sign-in');
    await page.getByLabel('Your mail address').fill('nobody@nowhere.example');
    await page.keyboard.press('Enter');
    await page.getByText('a sign-in link is on its way').waitFor();
    await page.getByLabel('One-time link').fill('http://elsewhere.example/');
    await page.keyboard.press('Enter');
    await page.getByText('There is no sign-in link in this').waitFor();
    await accept('sign-in-answers');
  });

  test('the link that the server printed signs in', async () => {
    await page.getByLabel('One-time link').fill(await program.signInLink(MANAGER));
    await page.getByRole('button', { name: 'Use this link' }).click();
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { level: 1, name: 'What next' }).waitFor();
    await page.getByText('Demo: firms, people, sites and figures are invented.').waitFor();
    await accept('what-next-empty');
  });

  test('before any plan the sheet shows what is known, and says that nothing is published', async () => {
    await page.getByRole('link', { name: 'Season sheet' }).click();
    await page.getByText('No plan is published.').waitFor();
    expect(await page.locator('.sheet-row').count()).toBe(23);
    await page.getByText('April 2027').waitFor();
    await accept('sheet-before-planning');
  });

  test(
    'planning shows its progress, can be stopped, and keeps the best plan as a draft',
    async () => {
      await page.getByRole('link', { name: 'Plans', exact: true }).click();
      await page.getByLabel('Seconds').fill('600');
      await page.getByLabel(/^Seed/).fill('7');
      await page.getByRole('button', { name: 'Plan the season' }).click();
      await page.getByText(/Best so far: CAD [\d,.]+/).waitFor({ timeout: LONG_MS });
      expect(await page.getByText('Not live at the moment').count()).toBe(0);
      await accept('planning');
      await page.getByRole('button', { name: 'Stop and keep the best so far' }).click();
      await page.getByRole('link', { name: 'See the draft' }).click({ timeout: LONG_MS });
      await page.getByRole('heading', { level: 1, name: /^Plan no\. 1/ }).waitFor();
    },
    LONG_MS,
  );

  test('a draft shows a total that its cost lines add up to, what it changes and who must be told', async () => {
    const total = await page.locator('.big-number').textContent();
    expect(total).toMatch(/^CAD [\d,]+\.\d\d$/);
    expect(await page.locator('tfoot .number').textContent()).toBe(total);
    await page.getByText(/^Added: \d+/).waitFor();
    await page.getByRole('heading', { name: 'Who must be told' }).waitFor();
    await page.getByText('Adèle Comeau').first().waitFor();
    await accept('draft');
  });

  test('what next says that a draft waits, and the sheet opens on it while nothing is published', async () => {
    await page.getByRole('link', { name: 'What next' }).click();
    await page.getByText('Plan no. 1 is a draft and nothing is published').waitFor();
    expect(await page.getByText('Nothing that the program knows of').count()).toBe(0);
    await accept('what-next-draft');
    await page.getByRole('link', { name: 'Season sheet', exact: true }).click();
    await page.getByText('This is a draft: nobody has been told of it.').waitFor();
    await page.getByRole('link', { name: 'What next' }).click();
    await page.getByRole('link', { name: 'Look at it, then publish it' }).click();
    await page.getByRole('heading', { level: 1, name: /^Plan no\. 1/ }).waitFor();
  });

  test('a draft is on the sheet as a draft; a visit opens by keyboard with its reasons and gives the focus back', async () => {
    await page.getByRole('link', { name: 'See it on the season sheet' }).click();
    await page.getByText('This is a draft: nobody has been told of it.').waitFor();
    const first = page.locator('.stay').first();
    await first.focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'What keeps it from being earlier' }).waitFor();
    expect(await page.evaluate('document.activeElement.id')).toBe('visit-panel-head');
    await accept('sheet-draft-visit');
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    expect(await page.evaluate('document.activeElement.className')).toBe('stay');
  });

  test('dates stay those of the site, though this browser is half a day ahead', async () => {
    const { visits } = (await apiGet(`/seasons/${program.season}/plans/${await planId()}`)) as {
      visits: { job: string; days: string[] }[];
    };
    const [visit] = visits;
    await page.getByLabel('List').check();
    const day = Number(visit?.days[0]?.slice(8));
    const { title } = (
      (await apiGet(`/seasons/${program.season}/jobs/${visit?.job}`)) as { row: { title: string } }
    ).row;
    const row = page.getByRole('row').filter({ hasText: title });
    expect(await row.locator('td').first().textContent()).toMatch(new RegExp(`^\\w{3} ${day} `));
    await accept('sheet-list');
  });

  test(
    'publishing asks first and says who is told; then it counts the messages',
    async () => {
      await go(`/plans/${await planId()}`);
      await page.getByRole('button', { name: 'Publish …' }).click();
      const dialog = page.getByRole('dialog');
      await dialog.getByText(/\d+ crew members/).waitFor();
      await dialog.getByText('all messages are held').waitFor();
      await accept('publish-asks');
      await page.keyboard.press('Escape');
      await dialog.waitFor({ state: 'detached' });
      expect(await page.evaluate('document.activeElement.textContent')).toBe('Publish …');
      await page.getByRole('button', { name: 'Publish …' }).click();
      await dialog.getByRole('button', { name: 'Publish and tell them' }).click();
      await page.getByText(/Published: \d+ visits added/).waitFor({ timeout: LONG_MS });
      await page.getByText(/\d+ messages written/).waitFor();
      await accept('published');
    },
    LONG_MS,
  );

  test('the published plan is on the sheet with the answers of the people', async () => {
    await go('/sheet');
    await page.locator('.stay').first().click();
    await page.getByRole('heading', { name: 'Who has answered' }).waitFor();
    await page.getByText('asked, no answer yet').first().waitFor();
    await accept('sheet-published-visit');
  });

  test(
    'without a mail server every message is held and shown as not sent',
    async () => {
      await go('/messages?state=held');
      const held = page.getByRole('listitem').filter({ hasText: 'held: not sent' });
      while ((await held.count()) < 4) {
        await page.waitForTimeout(1000);
        await page.getByRole('button', { name: 'Look again' }).click();
      }
      await page
        .getByRole('button', { name: /^See the text/ })
        .first()
        .click();
      await page.locator('.message-preview, .muted', { hasText: /./ }).first().waitFor();
      await accept('messages-held');
    },
    LONG_MS,
  );

  test('what waits for the manager is listed, and something heard by telephone is noted in place', async () => {
    await go('/');
    const heard = page.getByRole('button', { name: /^Heard: (accepted|confirmed)/ }).first();
    await heard.click();
    await page.getByText(/^Noted as (accepted|confirmed)/).waitFor();
    await accept('what-next');
  });

  test('what must be ready is accepted at its job', async () => {
    await go('/jobs');
    await accept('jobs');
    await page.getByLabel('Find a job, a site or a customer').fill('harbour');
    await page.getByRole('rowheader').getByRole('link').first().click();
    await page.getByRole('heading', { name: 'What must be ready before the visit' }).waitFor();
    const accepting = page.getByRole('button', { name: /^Accept/ });
    await accepting.first().waitFor();
    await accept('job');
    const before = await accepting.count();
    await accepting.first().click();
    await page.getByText(/^Accepted: /).waitFor();
    await accepting.nth(before - 1).waitFor({ state: 'detached' });
    expect(await accepting.count()).toBe(before - 1);
  });

  test('sites and people are found by name, and an unknown is shown as unknown', async () => {
    await go('/sites');
    await page.getByText('? not known').first().waitFor();
    await accept('sites');
    await go('/people');
    await page.getByLabel('Find a person, a crew or a ticket').fill('adèle');
    await page.getByText('1 person, as of').waitFor();
    await accept('people');
  });

  test('a season file is looked through first: changes are listed, faults refuse it, nothing is half-written', async () => {
    const file = (await apiGet(`/seasons/${program.season}/export?format=json`)) as {
      season: { notes?: string };
      jobs: { title: string; site: string }[];
    };
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-web-'));
    const write = (name: string, content: unknown): string => {
      const target = path.join(folder, name);
      fs.writeFileSync(target, JSON.stringify(content));
      return target;
    };
    const jobs = file.jobs.map((job, index) => (index === 0 ? { ...job, title: 'A new title' } : job));
    await go('/season-file');
    await accept('season-file');
    const chooser = page.getByLabel(/^Season file/);
    await chooser.setInputFiles(
      write('wrong.json', { ...file, jobs: [{ ...jobs[0], site: 'nowhere' }, ...jobs.slice(1)] }),
    );
    await page.getByRole('button', { name: 'Show what would change' }).click();
    await page.getByRole('heading', { name: /faults?; nothing was changed/ }).waitFor();
    expect(faults.splice(0).every((fault) => fault.includes('422'))).toBe(true);
    await accept('season-file-faults');
    await chooser.setInputFiles(write('right.json', { ...file, jobs }));
    await page.getByRole('button', { name: 'Show what would change' }).click();
    await page.getByRole('heading', { name: 'What would change' }).waitFor();
    await accept('season-file-changes');
    expect(JSON.stringify(await apiGet(`/seasons/${program.season}/export?format=json`))).not.toContain(
      'A new title',
    );
    await page.getByRole('button', { name: 'Read it in' }).click();
    await page.getByText(/is now as the file says/).waitFor();
    expect(JSON.stringify(await apiGet(`/seasons/${program.season}/export?format=json`))).toContain(
      'A new title',
    );
    fs.rmSync(folder, { recursive: true });
  });

  const screens = ['', 'sheet', 'plans', 'messages', 'jobs', 'sites', 'people', 'season-file'];

  test.each(screens)(
    'on a phone nothing of the screen "%s" is cut off, and it has no fault',
    async (screen) => {
      for (const width of [320, 375]) {
        await page.setViewportSize({ width, height: 800 });
        await go(`/${screen}`);
        await page.waitForLoadState('networkidle');
        expect([width, await widthTooMuch(page)]).toEqual([width, 0]);
      }
      await accept(`phone-${screen || 'what-next'}`);
    },
    LONG_MS,
  );

  test(
    'on a phone a plan is read, and the drawn sheet scrolls in its own frame',
    async () => {
      for (const width of [320, 375]) {
        await page.setViewportSize({ width, height: 800 });
        await go(`/plans/${await planId()}`);
        await page.locator('.big-number').waitFor();
        expect([width, await widthTooMuch(page)]).toEqual([width, 0]);
        if (width === 375) await accept('phone-plan');
        await go('/sheet');
        await page.getByLabel('Sheet', { exact: true }).check();
        await page.locator('.stay').first().waitFor();
        expect([width, await widthTooMuch(page)]).toEqual([width, 0]);
      }
      await accept('phone-sheet-drawn');
      await page.setViewportSize({ width: 1400, height: 900 });
    },
    LONG_MS,
  );

  test('a server that cannot be reached is told so, with a way to try again', async () => {
    await go('/messages');
    await page.getByText(/messages shown/).waitFor();
    await context.setOffline(true);
    await page.getByRole('button', { name: 'Look again' }).click();
    await page.getByText('The server cannot be reached.').waitFor();
    await context.setOffline(false);
    faults.splice(0);
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByText('The server cannot be reached.').waitFor({ state: 'detached' });
  });

  test('when the session has ended elsewhere, the next step leads to the way in and says why', async () => {
    await apiSend('DELETE', '/sessions/current');
    await page.getByRole('button', { name: 'Look again' }).click();
    await page.getByText('Your session has ended.').waitFor();
    faults.splice(0);
    await accept('session-ended');
  });

  async function apiGet(address: string): Promise<unknown> {
    const answer = await context.request.get(`${program.url}/api/v1${address}`);
    expect([address, answer.status()]).toEqual([address, 200]);
    return answer.json();
  }

  async function apiSend(method: string, address: string): Promise<void> {
    const answer = await context.request.fetch(`${program.url}/api/v1${address}`, {
      method,
      headers: { origin: program.url },
    });
    expect(answer.ok()).toBe(true);
  }

  async function planId(): Promise<string> {
    const { items } = (await apiGet(`/seasons/${program.season}/plans`)) as { items: { id: string }[] };
    return items[0]?.id as string;
  }
});
