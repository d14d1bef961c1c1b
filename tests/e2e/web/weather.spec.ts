// The manager's screens of the weather in a real browser, against the built API, worker and pages. The tests are steps of
// one way and run in their order.
import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { epwText } from '../../builders/epw-file.ts';
import { accessibilityFaults, openBrowser, openPage, takePicture, widthTooMuch } from './browser.ts';
import { publishSomePlan } from './publish-some-plan.ts';
import { CREW_LEAD, MANAGER, type RunningProgram, startProgram } from './running-program.ts';
import { storeWindyDay } from './store-windy-day.ts';

const LONG_MS = 240_000;
jest.setTimeout(120_000);
const DESKTOP = { width: 1400, height: 900 };
const PHONE = { width: 360, height: 800 };

/** Line of the data file on which a temperature is no number. */
const BAD_LINE = 100;

describe('the weather', () => {
  let program: RunningProgram;
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let faults: string[];
  const good = epwText({ rainMm: ({ month, hour }) => (month < 4 && hour % 4 === 0 ? 1 : 0) });
  const bad = good
    .split('\n')
    .map((line, index) => (index === BAD_LINE - 1 ? line.replace(/,15,/, ',fifteen,') : line))
    .join('\n');

  beforeAll(async () => {
    program = await startProgram();
    browser = await openBrowser();
    context = await browser.newContext({ viewport: DESKTOP, timezoneId: 'Pacific/Auckland' });
    ({ page, faults } = await openPage(context));
    await page.goto(await program.signInLink(MANAGER));
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { level: 1, name: 'What next' }).waitFor();
    faults.splice(0);
  }, LONG_MS);

  afterAll(async () => {
    await browser?.close();
    await program?.stop();
  }, LONG_MS);

  /** Nothing is wrong with the screen, wide and narrow, for those who see it and those who hear it. */
  const accept = async (name: string): Promise<void> => {
    for (const [kind, size] of [
      ['desktop', DESKTOP],
      ['phone', PHONE],
    ] as const) {
      await page.setViewportSize(size);
      await takePicture(page, `weather-${name}-${kind}`);
      expect([name, kind, await widthTooMuch(page)]).toEqual([name, kind, 0]);
      expect(await accessibilityFaults(page)).toEqual([]);
    }
    await page.setViewportSize(DESKTOP);
    expect(faults.splice(0)).toEqual([]);
  };
  const choose = (name: string, text: string): Promise<void> =>
    page
      .getByLabel(/^Weather file/)
      .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(text) });
  const fileCard = (name: string) => page.getByRole('region', { name: new RegExp(`^${name}`) });

  test('before any file the screen says what there is, and what stands in', async () => {
    await page.getByRole('link', { name: 'Weather', exact: true }).click();
    await page.getByText('No weather file was sent from here yet.').waitFor();
    await page.getByText('None is fetched: ').waitFor();
    await page.getByText('Of 23 sites, 0 have a record of past hours and 0 a forecast.').waitFor();
    await page.getByText('Site by site').click();
    expect(await page.getByText('its monthly figures stand in').count()).toBe(23);
    await accept('empty');
  });

  test('a file with a bad line is refused with the line named; then the good lines are kept on request', async () => {
    await page.getByLabel('What the record is for').selectOption({ label: 'Gull Point School' });
    await choose('one-bad-line.epw', bad);
    await page.getByRole('button', { name: 'Read it in' }).click();
    const card = fileCard('one-bad-line.epw');
    await card.getByText('✕not read in').waitFor();
    await card.getByText(/Nothing was changed\. One line cannot be read; the first is line 100/).waitFor();
    const row = card.getByRole('row').last();
    expect(await row.getByRole('cell').allTextContents()).toEqual([
      String(BAD_LINE),
      expect.stringMatching(/\w/),
      'fifteen',
    ]);
    await accept('refused');
    await card.getByRole('button', { name: /^Send it again and leave this line out/ }).click();
    await page.getByText('8,759 hours read, from Sun 1 January 2023 to Sun 31 December 2023.').waitFor();
    await page.getByText('1 line that cannot be read, left out').waitFor();
  });

  test('its progress is watched by the events of the server, and the whole file adds the hour that was missing', async () => {
    const events = page.waitForRequest((request) => /weather-imports\/[^/]+\/events$/.test(request.url()));
    await choose('whole.epw', good);
    await page.getByRole('button', { name: 'Read it in' }).click();
    await events;
    const card = fileCard('whole.epw');
    await card.getByText('1 added, 0 changed, 8,759 the same as before.').waitFor();
    const record = page.getByRole('row', { name: /^Site Gull Point School/ }).first();
    await record.getByText('8,760').waitFor();
    expect(await record.textContent()).toMatch(/no gusts: estimated from the mean wind/);
    await accept('read-in');
  });

  test('the odds of a year are a picture and tables that say the same, with what they rest on', async () => {
    await page.getByRole('link', { name: 'Odds of the year at a site' }).click();
    await page.getByText('Choose a site to see its odds.').waitFor();
    await page.getByLabel('Site', { exact: true }).selectOption({ label: 'Heath Hill' });
    await page.getByText('No job there has work outside that is known.').waitFor();
    await page.getByLabel('Work', { exact: true }).selectOption({ index: 1 });
    await page.getByText('The odds of Heath Hill are not known').waitFor();
    faults.splice(0);
    await page.getByLabel('Site', { exact: true }).selectOption({ label: 'Gull Point School' });
    await page.getByText('estimated in 100 % of the hours').waitFor();
    const picture = page.getByRole('img', { name: /^Odds of good days at Gull Point School/ });
    await picture.scrollIntoViewIfNeeded();
    // Rejects where the picture cannot be read.
    await page.evaluate("document.querySelector('.odds-picture').decode()");
    const statements = page.getByText('What these odds rest on').locator('xpath=..').getByRole('listitem');
    expect((await statements.allTextContents()).join(' ')).toMatch(/year/);
    // It rains from January to March in the file, and never in July.
    const shareOf = async (month: string): Promise<number> =>
      Number(/(\d+) % good/.exec((await page.getByText(new RegExp(`^${month}: `)).textContent()) ?? '')?.[1]);
    expect([await shareOf('February'), await shareOf('July')]).toEqual([0, 100]);
    await page.getByText(/^February: /).click();
    const february = page.getByRole('table', { name: 'Odds of the dates of February' });
    // A row of heads, and 29 dates.
    expect(await february.getByRole('row').count()).toBe(30);
    expect(await february.getByRole('row', { name: /^29 February/ }).textContent()).toMatch(/0 %/);
    await accept('odds');
  });

  test('a published visit without a forecast says CANNOT SAY, why, and what it would cost either way', async () => {
    await publishSomePlan(program, browser);
    await page.goto(`${program.url}/app/sheet?job=salt-marsh`);
    await page.getByRole('heading', { name: 'Go or hold' }).waitFor();
    await page.getByText('?CANNOT SAY').waitFor();
    await page.getByText('it does not mean go').waitFor();
    await accept('brief-glance');
    await page.getByRole('link', { name: 'See why, both costs and the limits' }).click();
    await page.getByRole('heading', { level: 1, name: /^Go or hold: / }).waitFor();
    await page.getByText('?CANNOT SAY').waitFor();
    await page.getByText('There is no forecast for this site and day.').waitFor();
    await page
      .getByText('The odds are not known: no forecast near enough and no record speaks of the day.')
      .waitFor();
    await page.getByText('the competent person on site decides', { exact: false }).first().waitFor();
    await page.getByText(/nobody can say whether a limit will be broken/).waitFor();
    expect(await page.getByText(/^Hold when the chance of failing is above/).count()).toBe(1);
    const evidence = await page.getByRole('link', { name: /^Save the evidence/ }).getAttribute('href');
    const table = await context.request.get(`${program.url}${evidence}`);
    expect([table.status(), table.headers()['content-type']]).toEqual([
      200,
      expect.stringMatching(/^text\/csv/),
    ]);
    await accept('brief');
  });

  test('fair odds of past years alone never say go', async () => {
    await page.goto(`${program.url}/app/briefs/gull-point`);
    await page.getByText('?CANNOT SAY').waitFor();
    await page.getByText('Past years alone never say go.').waitFor();
    await page.getByText('From past years alone: no forecast was used.').waitFor();
    await accept('brief-records');
  });

  test('a gust that the forecast has over the limit is named with what is allowed, since when and how long', async () => {
    await storeWindyDay(program, { job: 'harbour-hill', gustMps: 15 });
    await page.goto(`${program.url}/app/briefs/harbour-hill`);
    await page.getByText(/^Forecast of .* from An invented service, \d/).waitFor();
    const table = page.getByRole('table', { name: 'Limits that the forecast breaks in working hours' });
    const gusts = table.getByRole('row', { name: /^Gust at the load/ }).first();
    // Work begins at 08:00 in this season; 15 m/s at 10 m is more than any step with a gust limit allows.
    expect(await gusts.getByRole('cell').allTextContents()).toEqual([
      expect.stringMatching(/^at most \d+(\.\d)? m\/s$/),
      expect.stringMatching(/^\d+(\.\d)? m\/s$/),
      expect.stringMatching(/^\d+(\.\d)? m\/s$/),
      '08:00',
      expect.stringMatching(/^\d+/),
      '1 of 1',
    ]);
    await accept('brief-limits');
  });

  test('the lead of a crew opens the brief beside the own visit, on a phone', async () => {
    const own = await browser.newContext({ viewport: PHONE });
    const lead = await openPage(own);
    await lead.page.goto(await program.signInLink(CREW_LEAD));
    await lead.page.getByRole('button', { name: 'Sign in' }).click();
    await lead.page.getByRole('heading', { level: 1, name: 'My visits' }).waitFor();
    await lead.page
      .getByRole('button', { name: /^Go or hold ?: .*dome at/ })
      .first()
      .click();
    await lead.page.getByText(/CANNOT SAY/).waitFor();
    await lead.page.getByText('A failed start costs', { exact: true }).waitFor();
    expect(await lead.page.getByRole('link', { name: /^Save the evidence/ }).count()).toBe(0);
    await takePicture(lead.page, 'weather-brief-lead-phone');
    expect(await widthTooMuch(lead.page)).toBe(0);
    expect(await accessibilityFaults(lead.page)).toEqual([]);
    expect(lead.faults).toEqual([]);
    await own.close();
  });
});
