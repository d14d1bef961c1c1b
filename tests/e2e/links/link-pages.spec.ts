// The pages behind links in a real browser on a phone, without scripts: they are read, filled in and sent by keyboard and
// label alone, and axe-core (WCAG 2.2 A and AA) finds nothing on them.
import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { type ApiStage, openApiStage } from '../../integration/api/links-stage.ts';
import { hill, publish } from '../../integration/data/stage.ts';
import { accessibilityFaults, openBrowser, openPage, takePicture, widthTooMuch } from '../web/browser.ts';

const LONG_MS = 120_000;
jest.setTimeout(120_000);
const PHONE = { width: 375, height: 800 };

describe('the pages behind links on a phone', () => {
  let stage: ApiStage;
  let browser: Browser;
  const contexts: BrowserContext[] = [];

  beforeAll(async () => {
    stage = await openApiStage();
    await publish(stage, [hill]);
    browser = await openBrowser();
  }, LONG_MS);

  afterAll(async () => {
    for (const context of contexts) await context.close();
    await browser?.close();
    await stage?.close();
  }, LONG_MS);

  /** A page in which the site's own scripts are off. */
  async function onPhone(address: string, colorScheme: 'light' | 'dark' = 'light') {
    const context = await browser.newContext({ viewport: PHONE, javaScriptEnabled: false, colorScheme });
    contexts.push(context);
    const { page, faults } = await openPage(context);
    await page.goto(address);
    return { page, faults };
  }

  /** Looks at the page as it stands; axe-core needs scripts, so it is given the same HTML in a page that has them. */
  async function sound(page: Page, name: string, colorScheme: 'light' | 'dark' = 'light'): Promise<void> {
    await takePicture(page, `link-${name}`);
    const context = await browser.newContext({ viewport: PHONE, colorScheme });
    const looker = await context.newPage();
    // From the same address, so that the style sheet and the content security policy are the real ones.
    const html = await page.content();
    await looker.route(page.url(), (route) =>
      route.fulfill({ contentType: 'text/html; charset=utf-8', body: html }),
    );
    await looker.goto(page.url());
    expect(await accessibilityFaults(looker)).toEqual([]);
    expect(await widthTooMuch(looker)).toBe(0);
    await context.close();
  }

  const linkOf = async (purpose: string, reader: string) =>
    `${stage.origin}/l/${await stage.token(purpose, reader)}`;

  test('crew: a no without a reason is sent back, with one it is kept and shown', async () => {
    const { page, faults } = await onPhone(await linkOf('crew-assignment', 'ana'));
    await sound(page, 'crew');
    await page.getByLabel('No, I cannot').check();
    await page.getByRole('button', { name: 'Send the answer' }).click();
    await page.getByRole('alert').waitFor();
    expect(await page.title()).toMatch(/^Please mend/);
    await sound(page, 'crew-fault');
    await page.getByRole('link', { name: /Write the reason/ }).click();
    expect(page.url()).toMatch(/#note$/);
    await page.getByLabel(/^If you cannot: the reason/).fill('My knee is bad');
    await page.getByRole('button', { name: 'Send the answer' }).press('Enter');
    await page.getByText('Your answer is kept').waitFor();
    await page.getByText('Your reason: My knee is bad').waitFor();
    await sound(page, 'crew-kept');
    // The browser says "422" of its own accord; nothing else may be said.
    expect(faults.filter((fault) => !fault.includes('422'))).toEqual([]);
  });

  test('customer: ticks one item, measures another wrongly and then rightly, and answers about the dates', async () => {
    const { page } = await onPhone(await linkOf('readiness', 'hill-school'));
    await sound(page, 'readiness');
    await page.getByLabel('This is ready').first().check();
    await page.getByLabel(/^Measured value in mm/).fill('two');
    await page.getByRole('button', { name: 'Send what is ready' }).click();
    await page.getByRole('alert').waitFor();
    await sound(page, 'readiness-fault');
    expect(await page.getByLabel('This is ready').first().isChecked()).toBe(true);
    await page.getByLabel(/^Measured value in mm/).fill('-2,5');
    await page.getByRole('button', { name: 'Send what is ready' }).click();
    await page.getByText('2 told and not looked at yet').waitFor();
    await page.getByLabel(/^Another measured value/).fill('9');
    await page.getByRole('button', { name: 'Send what is ready' }).click();
    await page.getByText('9 mm is outside the limits').waitFor();
    await page.getByLabel('Another day would suit us better').check();
    await page.getByLabel('First day that would suit').fill('2026-06-22');
    await page.getByRole('button', { name: 'Send the answer on the dates' }).click();
    await page.getByText('First day: Monday, June 22, 2026').waitFor();
    await sound(page, 'readiness-kept');
  });

  test('partner: confirms with a reference, in a dark theme', async () => {
    const { page } = await onPhone(await linkOf('partner-confirm', 'hoist'), 'dark');
    await sound(page, 'lift', 'dark');
    await page.getByLabel(/Yes, we confirm/).check();
    await page.getByLabel('Your reference (optional)').fill('HH-1182');
    await page.getByRole('button', { name: 'Send the answer' }).click();
    await page.getByText('Your reference: HH-1182').waitFor();
    await sound(page, 'lift-kept', 'dark');
  });

  test('haulier: sees the goods and the way in', async () => {
    const { page } = await onPhone(await linkOf('partner-confirm', 'haul'));
    await page.getByText('1 × Dome 6 m').waitFor();
    await sound(page, 'delivery');
  });

  test('anybody: a dead link says what to do', async () => {
    const { page } = await onPhone(`${stage.origin}/l/${'x'.repeat(43)}`);
    await page.getByText('What to do:').waitFor();
    await sound(page, 'dead');
  });
});
