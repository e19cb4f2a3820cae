/** The program as a user has it: the built window in a real Chromium, the built loopback host behind it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
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

/** How long something may be in coming, in milliseconds, before it counts as missing: the machine may be slow. */
const PATIENCE = 60_000;

export type App = {
  /** Books and outputs go here. */
  readonly root: string;
  readonly data: string;
  readonly browser: Browser;
  /** Everything the page complained about. */
  readonly complaints: string[];
  /** Processes of the hosts, in the order in which they were started. */
  readonly hosts: readonly number[];
  open(options?: { readonly book?: string; readonly fresh?: boolean }): Promise<Page>;
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
  const served: Served[] = [];
  /** Serves the folder of this program's own files that all windows share which are not fresh; begun when the first is opened. */
  let shared: Promise<Served> | undefined;
  const begin = async (own: string, book?: string): Promise<Served> => {
    const one = await serve(program, root, own, book);
    served.push(one);
    return one;
  };
  const browser = await chromium.launch({
    executablePath: CHROMIUM,
    timeout: 3 * PATIENCE,
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
    async open({ book, fresh = false } = {}) {
      const own = fresh ? join(await mkdtemp(join(tmpdir(), 'twelvefold-data-')), 'own') : data;
      const alone = fresh || book !== undefined;
      if (!alone) shared ??= begin(data);
      const { address } = await (alone || !shared ? begin(own, book) : shared);
      const context = await browser.newContext({
        viewport: { width: 1440, height: 900 },
        colorScheme: 'light',
        reducedMotion: 'reduce',
      });
      const page = await context.newPage();
      page.setDefaultTimeout(PATIENCE);
      // While someone listens, a chooser of files never becomes the system's own, however soon after this it is opened.
      page.on('filechooser', () => undefined);
      page.on('pageerror', (failure) => complaints.push(failure.message));
      page.on('console', (message) => {
        // A refusal of the content policy comes as a message of the console too.
        if (message.type() === 'error') complaints.push(message.text());
      });
      await page.goto(address);
      await page.locator('.top-title').waitFor();
      await page.locator('.drawing').first().waitFor();
      return page;
    },
    async close() {
      await browser.close();
      for (const { child } of served) {
        const ended = once(child, 'exit');
        if (child.kill()) await ended;
      }
    },
  };
}

/** Presses keys one after another. */
export async function press(page: Page, ...keys: string[]): Promise<void> {
  for (const key of keys) await page.keyboard.press(key);
}

/** The tag of what has the focus. */
export const focusedElement = (page: Page): Promise<unknown> => page.evaluate('document.activeElement.localName');

/** Until nothing on the page moves and all that was changed is painted. */
export const atRest = (page: Page): Promise<unknown> =>
  page.evaluate(`new Promise((resolve) => {
    const look = () => (document.getAnimations().some((it) => it.playState === 'running') ? requestAnimationFrame(look) : resolve());
    requestAnimationFrame(() => requestAnimationFrame(look));
  })`);

/** The drawing of a page as it stands in the window. */
export const drawingText = (page: Page, selector: string): Promise<string> =>
  page
    .locator(selector)
    .first()
    .evaluate((element) => element.shadowRoot?.innerHTML ?? '');
