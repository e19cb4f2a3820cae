/** The program as a user has it: the built window in a real Chromium, the built loopback host behind it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { builtProgram } from './built.js';

export const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
/** These tests need Chromium; without it they are not run, and the reason stands in their name. */
export const hasChromium = existsSync(CHROMIUM);
export const needs = hasChromium ? '' : ` (not run: there is no Chromium at ${CHROMIUM})`;

export type App = {
  /** Books and outputs go here. */
  readonly root: string;
  readonly data: string;
  readonly browser: Browser;
  /** Everything the page complained about. */
  readonly complaints: string[];
  /** Processes of the hosts, in the order in which they were started. */
  readonly hosts: readonly number[];
  open(options?: { readonly dark?: boolean; readonly book?: string; readonly fresh?: boolean }): Promise<Page>;
  close(): Promise<void>;
};

type Served = { readonly child: ChildProcess; readonly address: string };

async function serve(program: string, root: string, data: string, book?: string): Promise<Served> {
  const script = join(program, 'dist', 'electron', 'loopback.js');
  const child = spawn(process.execPath, [script, '--root', root, '--data', data, ...(book ? [book] : [])], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const address = await new Promise<string>((resolve, reject) => {
    let text = '';
    child.stdout?.on('data', (chunk) => {
      text += chunk;
      const found = /http:\S+/.exec(text)?.[0];
      if (found) resolve(found);
    });
    child.once('exit', () => reject(new Error(`the host ended: ${text}`)));
  });
  return { child, address };
}

export async function startApp(): Promise<App> {
  const program = await builtProgram();
  const root = await mkdtemp(join(tmpdir(), 'twelvefold-books-'));
  const data = join(await mkdtemp(join(tmpdir(), 'twelvefold-data-')), 'own');
  const served: Served[] = [await serve(program, root, data)];
  const browser = await chromium.launch({
    executablePath: CHROMIUM,
    args: [
      '--no-sandbox',
      '--headless',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--autoplay-policy=no-user-gesture-required',
    ],
  });
  const complaints: string[] = [];
  return {
    root,
    data,
    browser,
    complaints,
    get hosts() {
      return served.flatMap(({ child }) => child.pid ?? []);
    },
    async open({ dark = false, book, fresh = false } = {}) {
      if (book || fresh)
        served.push(await serve(program, root, fresh ? join(await mkdtemp(join(tmpdir(), 'twelvefold-data-')), 'own') : data, book));
      const context = await browser.newContext({
        viewport: { width: 1440, height: 900 },
        colorScheme: dark ? 'dark' : 'light',
        reducedMotion: 'reduce',
      });
      const page = await context.newPage();
      page.setDefaultTimeout(15_000);
      page.on('pageerror', (failure) => complaints.push(failure.message));
      page.on('console', (message) => {
        // A refusal of the content policy comes as a message of the console too.
        if (message.type() === 'error') complaints.push(message.text());
      });
      await page.goto(served[book || fresh ? served.length - 1 : 0]?.address ?? '');
      await page.locator('.top-title').waitFor();
      await page.locator('.drawing').first().waitFor();
      return page;
    },
    async close() {
      await browser.close();
      for (const { child } of served) child.kill();
    },
  };
}

/** Presses keys one after another. */
export async function press(page: Page, ...keys: string[]): Promise<void> {
  for (const key of keys) await page.keyboard.press(key);
}

/** The drawing of a page as it stands in the window. */
export const drawingText = (page: Page, selector: string): Promise<string> =>
  page
    .locator(selector)
    .first()
    .evaluate((element) => element.shadowRoot?.innerHTML ?? '');
