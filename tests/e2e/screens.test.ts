/** Every screen, light and dark: no serious fault for screen readers and keyboards; and the screen's pages are the printed ones. */
import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { buildEdition } from '../../core/build/edition.js';
import { installedFonts } from '../../core/disk/fonts.js';
import { openFonts } from '../../core/engrave/metrics.js';
import { writePdf } from '../../core/output/pdf/pdf.js';
import { type App, atRest, drawingText, hasChromium, needs, press, startApp } from './app.js';

let app: App;
const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
/** Pictures to be looked at go here when the variable is set. */
const SHOTS = process.env.TWELVEFOLD_SHOTS;

beforeAll(async () => {
  if (hasChromium) app = await startApp();
  if (SHOTS) await mkdir(SHOTS, { recursive: true });
});
afterAll(() => app?.close());

type Finding = { id: string; impact: string; nodes: { target: string[]; failureSummary: string }[] };

/** Serious and critical findings by the rules of WCAG 2.2 A and AA. */
async function findings(page: Page, rules?: readonly string[]): Promise<string[]> {
  if (!(await page.evaluate('"axe" in window'))) await page.evaluate(axe);
  const options = { resultTypes: ['violations'], ...(rules ? { runOnly: rules } : {}) };
  const { violations } = (await page.evaluate(`axe.run(document, ${JSON.stringify(options)})`)) as { violations: Finding[] };
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target.join(' ')}: ${node.failureSummary}`));
}

async function looked(page: Page, name: string): Promise<void> {
  if (SHOTS) await page.screenshot({ path: join(SHOTS, `${name}.png`) });
}

/** How each screen is reached, and what shows that it is there. */
const SCREENS: readonly (readonly [string, (page: Page) => Promise<void>, string])[] = [
  ['book', (page) => press(page, 'Alt+1'), '.outline'],
  [
    'book-texts',
    async (page) => {
      await press(page, 'Alt+1');
      for (const name of ['Titles and texts', 'Paper and binding', 'Extra pages']) await page.getByText(name, { exact: true }).click();
      await page.getByText('Extra pages', { exact: true }).scrollIntoViewIfNeeded();
    },
    'details[open]',
  ],
  ['exercise', (page) => press(page, 'Alt+2'), '.contour'],
  [
    'exercise-keys',
    async (page) => {
      await press(page, 'Alt+2');
      await page.locator('.wheel').scrollIntoViewIfNeeded();
    },
    '.wheel-key',
  ],
  [
    'exercise-fault',
    async (page) => {
      await press(page, 'Alt+2');
      await page.getByRole('textbox', { name: 'Figure', exact: true }).fill('1 2 b3, 5');
    },
    '.figure-under .wrong',
  ],
  ['library', (page) => press(page, 'Alt+l'), '.figure-card .drawing'],
  ['pages', (page) => press(page, 'Alt+3'), '.spread .drawing'],
  ['players', (page) => press(page, 'Alt+4'), '.compass-staff .drawing'],
  ['players-together', (page) => page.locator('table').scrollIntoViewIfNeeded(), 'table'],
  ['students-none', (page) => page.getByRole('button', { name: 'Students', exact: true }).click(), '.empty-panel'],
  [
    'students',
    async (page) => {
      await page.getByRole('button', { name: 'Start a roster' }).click();
      await page.getByRole('button', { name: 'Add a student' }).click();
      await page.getByRole('button', { name: 'Measure a long tone' }).click();
      await page.getByText('Compass, paper and spelling').click();
      await page.getByRole('button', { name: 'Add an assignment' }).click();
    },
    '.tempos',
  ],
  [
    'ensemble',
    async (page) => {
      await page.getByRole('button', { name: 'Ensemble', exact: true }).click();
      await page.getByRole('button', { name: 'Start an ensemble' }).click();
      await page.getByText('Score and remark').click();
      await page.getByText(/^Exercises to print/).click();
      await page.getByRole('button', { name: 'Bind chairs' }).click();
    },
    '.assignment',
  ],
  ['print-choices', (page) => press(page, 'Alt+5'), '.print-choices'],
  ['export', (page) => press(page, 'Alt+x'), 'dialog .path'],
  ['import', (page) => press(page, 'Alt+i'), 'dialog .drop'],
  [
    'print',
    async (page) => {
      await press(page, 'Alt+5');
      await page.getByRole('button', { name: 'Proof this instrument' }).click();
      await page
        .getByText(/rules: no fault|faults? found/)
        .first()
        .waitFor();
    },
    '.panel',
  ],
  ['start', (page) => press(page, 'Control+Alt+n'), 'dialog .who'],
  ['commands', (page) => press(page, 'Control+k'), 'dialog [role=option]'],
  ['keys', (page) => press(page, 'Alt+h'), 'dialog .key-table'],
  ['open', (page) => press(page, 'Control+o'), 'dialog .path'],
  ['looks', (page) => page.getByRole('button', { name: 'Look and sound' }).click(), 'dialog select'],
  [
    'folder',
    async (page) => {
      await press(page, 'Alt+5');
      await page.getByRole('button', { name: 'Choose the folder' }).click();
    },
    'dialog .path',
  ],
  [
    'guard',
    async (page) => {
      await press(page, 'Alt+2');
      await page.getByRole('textbox', { name: 'Figure', exact: true }).fill('1 2 1');
      await press(page, 'Control+o');
    },
    'dialog .row.end',
  ],
];

/** Light and dark, what is on the screen now. */
async function check(page: Page, name: string): Promise<void> {
  for (const look of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme: look });
    await atRest(page);
    await looked(page, `${name}-${look}`);
    // Colours are all that differs in the dark.
    expect(await findings(page, look === 'dark' ? ['color-contrast'] : undefined), `${name}, ${look}`).toEqual([]);
  }
}

describe.skipIf(!hasChromium)(`screens${needs}`, () => {
  it('no serious finding on any screen, light and dark', async () => {
    const page = await app.open({ fresh: true });
    for (const [name, reach, there] of SCREENS) {
      await reach(page);
      await page.locator(there).first().waitFor();
      await check(page, name);
      if ((await page.locator('dialog[open]').count()) > 0) {
        await press(page, 'Escape');
        // The figure that was broken on purpose, so that nothing unsaved stands in the way.
        const guard = page.getByRole('button', { name: 'Go on without saving' });
        if (await guard.count()) await guard.click();
      }
      while ((await page.getByRole('button', { name: /^Undo:/ }).count()) > 0) await press(page, 'Control+z');
    }
    await page.context().close();
  });

  it('no serious finding where something could be lost: changed on disk, recovery, closing while files are written', async () => {
    const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
    const page = await app.open();
    await press(page, 'Control+s');
    await page.getByLabel('Name of the file').fill('both');
    await button(page, 'Save here').click();
    await page.locator('.top-state', { hasText: /^Saved$/ }).waitFor();
    const file = join(app.root, 'both.twelvefold');
    await writeFile(file, (await readFile(file, 'utf8')).replace('Small Wheels', 'Changed Elsewhere'));
    await press(page, 'Alt+2');
    await page.getByRole('textbox', { name: 'Figure', exact: true }).fill('1 2 1');
    await press(page, 'Control+s');
    await page.getByRole('dialog', { name: 'The file was changed elsewhere' }).waitFor();
    await check(page, 'conflict');
    await press(page, 'Escape');
    await expect.poll(() => page.evaluate('document.activeElement.id')).toBe('figure');

    await expect.poll(async () => (await readdir(join(app.data, 'recovery')).catch(() => [])).length).toBe(1);
    await page.context().close();
    const next = await app.open();
    await next.getByRole('dialog', { name: 'Work from last time' }).waitFor();
    await check(next, 'recovery');
    await next
      .getByRole('dialog')
      .getByRole('button', { name: /^Throw away/ })
      .click();
    await expect.poll(() => next.locator('dialog').count()).toBe(0);

    // Only a desktop host asks a window to close; here its words are put among those of this host.
    await next.addInitScript(`{
      const ask = window.fetch;
      window.fetch = async (address, init) => {
        const response = await ask(address, init);
        if (address !== '/events') return response;
        const start = (stream) => {
          window.hostTells = (name) => stream.enqueue(new TextEncoder().encode('event: ' + name + '\\ndata: {}\\n\\n'));
        };
        return new Response(response.body.pipeThrough(new TransformStream({ start })));
      };
    }`);
    await next.reload();
    await next.locator('.drawing').first().waitFor();
    // The answer never comes, so that the files are being written for as long as it is looked at.
    await next.route('**/call/build', (route) =>
      route.fetch({ timeout: 0 }).then(
        () => undefined,
        () => undefined,
      ),
    );
    await press(next, 'Alt+5');
    await button(next, 'Choose the folder').click();
    await next.getByLabel('New folder in here, if you want one').fill('closing');
    await button(next, 'Choose this folder').click();
    await next.getByLabel('MIDI files to play along').check();
    await button(next, 'Write the files').click();
    await next.getByText(/: page \d/).waitFor();
    await check(next, 'writing');
    await next.evaluate("window.hostTells('close-asked')");
    await next.getByRole('dialog', { name: 'Files are being written' }).waitFor();
    await check(next, 'stop-work');
    await next.context().close();
  });

  it('a narrow window and large text: everything can still be reached', async () => {
    const page = await app.open({ fresh: true });
    await page.setViewportSize({ width: 700, height: 800 });
    for (let i = 0; i < 5; i++) await press(page, 'Control+Alt+Equal');
    await press(page, 'Alt+2');
    await page.locator('.contour').waitFor();
    await looked(page, 'exercise-narrow');
    const wide = (await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth')) as number;
    expect(wide).toBeLessThanOrEqual(0);
    expect(await findings(page)).toEqual([]);
    await page.context().close();
  });

  it('a note on the page is told about, and another instrument re-sets the page at once', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+3');
    await page.locator('.spread .drawing').first().waitFor();
    await page.locator('.spread [data-exercise="three-steps"] [data-role="notehead"]').nth(2).click();
    const card = page.getByRole('complementary', { name: 'About this note' });
    await expect.poll(() => card.textContent()).toMatch(/B flat major[\s\S]*3[\s\S]*D/);
    await expect.poll(() => page.locator('.spread .lit').count()).toBeGreaterThan(0);
    const music = '.spread .paper[data-side="right"] .drawing';
    const before = await drawingText(page, music);
    await press(page, 'Alt+ArrowRight');
    await expect.poll(() => page.locator('.top-edition select option:checked').textContent()).toBe('Clarinet in B♭');
    await expect.poll(async () => (await drawingText(page, music)) !== before).toBe(true);
    await page.context().close();
  });

  it('playing lights the notes on the page one after another, and stops', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+2');
    await page.getByRole('button', { name: 'Count-in' }).click();
    await page.getByLabel('Tempo to play at').selectOption({ index: 3 });
    // Written down in the window, frame by frame: a note may be over before it is asked about from here.
    await page.evaluate(`(() => {
      window.seen = [];
      const look = () => {
        const lit = document.querySelector('.beside .drawing')?.shadowRoot.querySelector('.lit')?.dataset.event;
        if (lit !== undefined && lit !== window.seen.at(-1)) window.seen.push(lit);
        requestAnimationFrame(look);
      };
      look();
    })()`);
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await expect.poll(() => page.evaluate('window.seen.slice(0, 2)')).toEqual(['0', '1']);
    await press(page, 'Control+Space');
    await expect.poll(() => page.locator('.beside .lit').count()).toBe(0);
    await page.context().close();
  });

  it('breaths vanish as the tempo rises', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+2');
    const marks = () => page.locator('.contour-breath').count();
    await page.getByLabel('Tempo', { exact: true }).fill('60');
    await expect.poll(marks).toBeGreaterThan(2);
    const slow = await marks();
    await page.getByLabel('Tempo', { exact: true }).fill('160');
    await expect.poll(marks).toBeLessThan(slow);
    await page.context().close();
  });

  it('the window never complained: no refused content, no thrown fault', () => {
    expect(app.complaints).toEqual([]);
  });
});

const PDFTOPPM = '/usr/bin/pdftoppm';
const canCompare = hasChromium && existsSync(PDFTOPPM);
/** Pixels to the inch, and how far an edge may lie beside its place in the other picture: smoothing differs. */
const DPI = 110;

/** Share of the dark pixels of each picture that have no dark pixel near them in the other. Runs in the browser. */
const COMPARE = `async ([a, b]) => {
  const pixels = async (address) => {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight);
    const context = canvas.getContext('2d');
    context.fillStyle = '#fff';
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.drawImage(image, 0, 0);
    return { width: canvas.width, height: canvas.height, data: context.getImageData(0, 0, canvas.width, canvas.height).data };
  };
  const [x, y] = [await pixels(a), await pixels(b)];
  const width = Math.min(x.width, y.width), height = Math.min(x.height, y.height);
  const alone = (p, q) => {
    let dark = 0, lonely = 0;
    for (let r = 2; r < height - 2; r++) for (let c = 2; c < width - 2; c++) {
      if (p.data[4 * (r * p.width + c)] > 90) continue;
      dark++;
      let near = false;
      for (let i = -1; i <= 1 && !near; i++) for (let j = -1; j <= 1 && !near; j++) near = q.data[4 * ((r + i) * q.width + c + j)] < 225;
      if (!near) lonely++;
    }
    return { dark, share: lonely / Math.max(1, dark) };
  };
  return { sizes: [x.width - y.width, x.height - y.height], there: alone(x, y), back: alone(y, x) };
}`;

describe.skipIf(!canCompare)(`screen and print${canCompare ? '' : ' (not run: this needs Chromium and pdftoppm)'}`, () => {
  it('every page on the screen is the page of the PDF', async () => {
    const fonts = openFonts(installedFonts());
    const text = await readFile(new URL('../../assets/books/small-wheels.twelvefold', import.meta.url), 'utf8');
    const book = readBook(text);
    if (!book.ok) throw new Error('the demo book reads');
    const spec = book.value.editions[0];
    const built = spec && buildEdition(book.value, spec, fonts);
    if (!built?.ok) throw new Error('the demo book builds');
    const chunks: Uint8Array[] = [];
    await writePdf(built.value.document, fonts, (chunk) => void chunks.push(chunk));
    const folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    await writeFile(join(folder, 'x.pdf'), Buffer.concat(chunks));
    await promisify(execFile)(PDFTOPPM, ['-r', String(DPI), '-png', join(folder, 'x.pdf'), join(folder, 'p')]);

    const page = await app.open({ fresh: true });
    await press(page, 'Alt+3');
    const total = built.value.document.pages.length;
    const bare = await page.context().newPage();
    for (let n = 0; n < total; n++) {
      const label = built.value.document.pages[n]?.label ?? '';
      await page
        .getByRole('navigation', { name: 'Go to page' })
        .getByRole('button', { name: `Page ${label}`, exact: true })
        .click();
      const figure = page.getByRole('figure', { name: `Page ${label}`, exact: true }).locator('.drawing');
      await figure.waitFor();
      const svg = await figure.evaluate((element) => element.shadowRoot?.innerHTML ?? '');
      const size = { width: (built.value.document.width * DPI) / 72, height: (built.value.document.height * DPI) / 72 };
      const sized = svg.replace(/ width="[\d.]+pt" height="[\d.]+pt"/, ` width="${size.width}" height="${size.height}"`);
      const screen = `data:image/svg+xml;base64,${Buffer.from(sized).toString('base64')}`;
      const digits = String(n + 1).padStart(String(total).length, '0');
      const print = `data:image/png;base64,${(await readFile(join(folder, `p-${digits}.png`))).toString('base64')}`;
      const found = (await bare.evaluate(`(${COMPARE})(${JSON.stringify([screen, print])})`)) as {
        sizes: number[];
        there: { dark: number; share: number };
        back: { dark: number; share: number };
      };
      expect(Math.max(...found.sizes.map(Math.abs)), label).toBeLessThanOrEqual(1);
      expect(found.there.share, `page ${label}: ink on the screen that the print has not`).toBeLessThan(0.004);
      expect(found.back.share, `page ${label}: ink in print that the screen has not`).toBeLessThan(0.004);
      if (built.value.document.pages[n]?.kind === 'music') expect(found.there.dark).toBeGreaterThan(2000);
    }
    await page.context().close();
  });
});
