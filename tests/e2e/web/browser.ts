import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { testChromiumPath } from '../../builders/test-services.ts';

const axeSource = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const PATIENCE_MS = 90_000;

/** The Chromium of this test run. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: testChromiumPath(),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** A page that keeps what goes wrong in it: faults of scripts, and what the content security policy refused. */
export interface WatchedPage {
  readonly page: Page;
  readonly faults: string[];
}

export async function openPage(context: BrowserContext): Promise<WatchedPage> {
  const page = await context.newPage();
  // A busy machine is no fault of the pages.
  page.setDefaultTimeout(PATIENCE_MS);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(`script: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(`console: ${message.text()}`);
  });
  return { page, faults };
}

interface AxeResult {
  readonly violations: readonly {
    readonly id: string;
    readonly help: string;
    readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
  }[];
  readonly passes: readonly unknown[];
}

/**
 * What axe-core finds against WCAG 2.2 A and AA and its own good practice, one line a fault. It is put in by the
 * debugger, not by a script element, so that the page keeps its content security policy.
 */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
  const result = (await page.evaluate(
    `${axeSource}; axe.run(document, { runOnly: ${JSON.stringify(tags)} })`,
  )) as AxeResult;
  if (result.passes.length === 0) throw new Error('axe-core has looked at nothing');
  return result.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id} (${violation.help}): ${node.html.slice(0, 200)}`),
  );
}

/** Pixels by which the page is wider than the window; 0 where nothing has to be scrolled sideways. */
export function widthTooMuch(page: Page): Promise<number> {
  return page.evaluate(
    'Math.max(0, document.documentElement.scrollWidth - window.innerWidth)',
  ) as Promise<number>;
}

/** Keeps a picture for people to look at in the folder that DRYSPELL_TEST_PICTURES names; without one it takes none. */
export async function takePicture(page: Page, name: string): Promise<void> {
  const folder = process.env['DRYSPELL_TEST_PICTURES'];
  if (!folder) return;
  fs.mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: path.join(folder, `${name}.png`), fullPage: true });
}
