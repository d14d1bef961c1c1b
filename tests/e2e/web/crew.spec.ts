// A crew member's own screens in a real browser, and the plain ones of customers and partners.
import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { inviteUser } from '../../../libs/data/src/account.repository.ts';
import { systemActor } from '../../../libs/data/src/actor.ts';
import { accessibilityFaults, openBrowser, openPage, takePicture, widthTooMuch } from './browser.ts';
import { publishSomePlan } from './publish-some-plan.ts';
import { CREW_LEAD, type RunningProgram, startProgram } from './running-program.ts';

const LONG_MS = 240_000;
jest.setTimeout(120_000);
const PHONE = { width: 375, height: 800 };

describe('people beside the manager', () => {
  let program: RunningProgram;
  let browser: Browser;

  beforeAll(async () => {
    program = await startProgram();
    browser = await openBrowser();
    await publishSomePlan(program, browser);
  }, LONG_MS);

  afterAll(async () => {
    await browser?.close();
    await program?.stop();
  }, LONG_MS);

  test('a crew member sees the own visits on a phone, answers, and changes the answer', async () => {
    const { page, faults } = await signedIn(CREW_LEAD, 'My visits');
    await page.getByText('asked, no answer yet').first().waitFor();
    const visits = await page.getByRole('heading', { level: 2 }).count();
    expect(visits).toBeGreaterThan(1);
    await accept(page, 'crew-visits');
    await page
      .getByRole('button', { name: /^Accept ?:/ })
      .first()
      .click();
    await page.getByText(/^Accepted: /).waitFor();
    await page.locator('.state-good', { hasText: 'accepted' }).first().waitFor();
    await page
      .getByRole('button', { name: /^Decline ?:/ })
      .first()
      .click();
    await page.getByText(/^Declined: /).waitFor();
    await page
      .getByRole('button', { name: /^Where and with whom ?:/ })
      .last()
      .click();
    await page.getByText('Power lines over the work').waitFor();
    await accept(page, 'crew-visit');
    expect(faults).toEqual([]);
  });

  test('the calendar can be followed by a secret address, which gives the visits', async () => {
    const { page } = await signedIn(CREW_LEAD, 'My visits');
    await page.getByRole('button', { name: 'Make a new address' }).click();
    const address = await page.getByLabel(/^Address to put into the calendar program/).inputValue();
    const calendar = await (await fetch(address)).text();
    expect(calendar).toContain('BEGIN:VEVENT');
    await accept(page, 'crew-calendar');
  });

  test('a crew member has no way to the screens of the manager', async () => {
    const { page, context } = await signedIn(CREW_LEAD, 'My visits');
    expect(await page.getByRole('navigation').getByRole('link').allTextContents()).toEqual(['My visits']);
    const answer = await context.request.get(`${program.url}/api/v1/seasons`);
    expect(answer.status()).toBe(404);
  });

  test('a customer sees what must be ready by when; a hire firm sees what is asked of it', async () => {
    const common = { organisationId: program.organisation.id, actor: systemActor('test') };
    const customer = 'gull-point@customers.example';
    await inviteUser(program.db, {
      ...common,
      email: customer,
      name: 'Gull Point School',
      role: 'customer',
      subjectKey: 'c-gull-point',
    });
    const hire = 'desk@fundy-lift.example';
    await inviteUser(program.db, {
      ...common,
      email: hire,
      name: 'Fundy Lift Hire',
      role: 'partner',
      subjectKey: 'fundy-lift',
    });
    const school = await signedIn(customer, 'Getting ready');
    await school.page
      .getByText(/^The crew starts on /)
      .first()
      .waitFor();
    await accept(school.page, 'customer');
    const firm = await signedIn(hire, 'What is asked of us');
    await firm.page
      .getByRole('button', { name: /^Confirm ?:/ })
      .first()
      .click();
    await firm.page.getByText(/^Confirmed: /).waitFor();
    await accept(firm.page, 'partner');
    expect([...school.faults, ...firm.faults]).toEqual([]);
  });

  async function signedIn(
    email: string,
    heading: string,
  ): Promise<{ page: Page; context: BrowserContext; faults: string[] }> {
    const context = await browser.newContext({ viewport: PHONE });
    const { page, faults } = await openPage(context);
    await page.goto(await program.signInLink(email));
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { level: 1, name: heading }).waitFor();
    await page.waitForLoadState('networkidle');
    return { page, context, faults };
  }

  async function accept(page: Page, name: string): Promise<void> {
    await takePicture(page, name);
    expect(await accessibilityFaults(page)).toEqual([]);
    expect(await widthTooMuch(page)).toBe(0);
  }
});
