/** From nothing to the printed book, as a user goes about it. */
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type App, drawingText, hasChromium, needs, press, startApp } from './app.js';

let app: App;

beforeAll(async () => {
  if (hasChromium) app = await startApp();
});
afterAll(() => app?.close());

async function pdfText(path: string): Promise<string[]> {
  const document = await getDocument({ data: new Uint8Array(await readFile(path)), verbosity: 0 }).promise;
  const pages: string[] = [];
  for (let n = 1; n <= document.numPages; n++) {
    const content = await (await document.getPage(n)).getTextContent();
    pages.push(content.items.map((item) => ('str' in item ? item.str : '')).join(' '));
  }
  return pages;
}

async function startBook(page: Page, title: string, instruments: readonly string[]): Promise<void> {
  await page.getByRole('button', { name: 'New book' }).click();
  const dialog = page.getByRole('dialog', { name: 'Start a book' });
  await dialog.getByLabel('Title', { exact: true }).fill(title);
  for (const instrument of instruments) await dialog.getByLabel(instrument, { exact: true }).check();
  await dialog.getByRole('button', { name: 'Make the book' }).click();
  await page.locator('.beside .drawing').first().waitFor();
}

const figureOf = (page: Page) => page.getByRole('textbox', { name: 'Figure', exact: true });
const place = (page: Page, name: string) => page.getByRole('navigation', { name: 'Twelvefold' }).getByRole('button', { name }).click();

describe.skipIf(!hasChromium)(`make a book${needs}`, () => {
  it('two chapters for three instruments, written, printed and read back', async () => {
    const page = await app.open({ fresh: true });
    await startBook(page, 'Slow Circles', ['Flute', 'Clarinet in B♭', 'Trombone']);
    await figureOf(page).fill('1 3 5 8 5 3');
    await page.getByLabel('Key order').selectOption('minor-thirds');
    await page.getByLabel('Title', { exact: true }).fill('The wide chord');

    await place(page, 'Book');
    await page.getByRole('button', { name: 'Add a chapter' }).first().click();
    await page.getByLabel('Title of the chapter').fill('Cells');
    await page.getByRole('button', { name: 'Edit', exact: true }).click();
    await page.getByRole('button', { name: 'From the library …' }).click();
    await page.getByLabel('Search the figures').fill('cell 1-2-3-5');
    await page.getByRole('button', { name: 'Take: Four-note cell 1-2-3-5' }).click();
    await expect.poll(() => figureOf(page).inputValue()).toBe('1 2 3 5');

    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByLabel('Name of the file').fill('circles');
    await page.getByRole('button', { name: 'Save here' }).click();
    await page.getByText('Saved as circles.twelvefold.').first().waitFor();
    const saved = JSON.parse(await readFile(join(app.root, 'circles.twelvefold'), 'utf8'));
    expect(saved.chapters.map((chapter: { title: string }) => chapter.title)).toEqual(['First chapter', 'Cells']);

    await mkdir(join(app.root, 'prints'), { recursive: true });
    await place(page, 'Proof & print');
    await page.getByText('No faults were found in the book.').waitFor();
    await page.getByRole('button', { name: 'Choose the folder' }).click();
    await page
      .getByRole('dialog')
      .getByRole('button', { name: /^prints/ })
      .click();
    await page.getByRole('dialog').getByRole('button', { name: 'Choose this folder' }).click();
    await page.getByRole('button', { name: 'Write the files' }).click();
    await page
      .getByText(/^3 files written to/)
      .first()
      .waitFor();
    expect((await readdir(join(app.root, 'prints'))).sort()).toEqual(
      ['slow-circles-clarinet-in-b-flat.pdf', 'slow-circles-flute.pdf', 'slow-circles-trombone.pdf'].map((name) =>
        name.replace('b-flat', 'bb'),
      ),
    );
    const text = (await pdfText(join(app.root, 'prints', 'slow-circles-trombone.pdf'))).join('\n');
    for (const words of ['Slow Circles', 'The wide chord', 'Four-note cell', 'Cells']) expect(text).toContain(words);
    await page.context().close();
  });

  it('a figure typed one character at a time: every half-written state says what is wrong, and the page stays', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+2');
    await figureOf(page).fill('1 2 3');
    await expect.poll(async () => (await drawingText(page, '.opening .drawing')).includes('data-event="2"')).toBe(true);
    const states: [string, boolean][] = [];
    for (const character of ' b3 -b7 r 5') {
      await page.keyboard.type(character);
      // The page of the last sound state is always there.
      expect(await page.locator('.beside .drawing').count()).toBeGreaterThan(0);
      const text = await figureOf(page).inputValue();
      const wrong = /(^| )[-b]+$/.test(text);
      await expect.poll(() => figureOf(page).getAttribute('aria-invalid')).toBe(wrong ? 'true' : null);
      if (wrong) await page.locator('.figure-under .wrong').first().waitFor();
      states.push([text, wrong]);
    }
    expect(states.filter(([, wrong]) => wrong)).toHaveLength(3);
    await page.context().close();
  });

  it('everything can be undone and done again, with its name', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+1');
    const titles = () => page.locator('.outline .item-title').allTextContents();
    const before = await titles();
    await page.locator('.outline .item-main').nth(1).click();
    await page.getByRole('button', { name: 'Delete', exact: true }).click();
    await expect.poll(titles).toHaveLength(before.length - 1);
    await page.getByRole('button', { name: 'Move down', exact: true }).click();
    await page.getByRole('button', { name: 'Duplicate', exact: true }).click();
    const after = await titles();
    await expect.poll(() => page.getByRole('button', { name: /^Undo: copy of/ }).count()).toBe(1);
    await press(page, 'Control+z', 'Control+z');
    await page.getByRole('button', { name: 'Undo: deleting of "Three steps"' }).click();
    await expect.poll(titles).toEqual(before);
    await press(page, 'Control+Shift+z', 'Control+Shift+z', 'Control+y');
    await expect.poll(titles).toEqual(after);
    await page.context().close();
  });

  it('exercises are reordered by dragging', async () => {
    const page = await app.open({ fresh: true });
    const titles = () => page.locator('.outline .item-title').allTextContents();
    await page
      .locator('.outline .item')
      .nth(3)
      .dragTo(page.locator('.outline .item').nth(1), { targetPosition: { x: 60, y: 3 } });
    await expect.poll(async () => (await titles()).slice(0, 4)).toEqual(['Long notes', 'Coming home', 'Three steps', 'A step and a skip']);
    await page.context().close();
  });

  it('work that was not saved comes back after a crash', async () => {
    const page = await app.open();
    await press(page, 'Alt+1');
    await page.getByText('Titles and texts').click();
    await page.getByLabel('Subtitle').fill('Found again');
    await expect.poll(async () => (await readdir(join(app.data, 'recovery')).catch(() => [])).length).toBe(1);
    // Gone without a word, as in a crash.
    await page.context().close();
    const next = await app.open();
    await next.getByRole('dialog', { name: 'Work from last time' }).getByRole('button', { name: /^Open/ }).click();
    await next.locator('.top-state', { hasText: 'Not saved' }).waitFor();
    await next.getByText('Titles and texts').click();
    await expect.poll(() => next.getByLabel('Subtitle').inputValue()).toBe('Found again');
    // Another book may not be opened over it unasked.
    await next.getByRole('button', { name: 'Open a book' }).click();
    await next
      .getByRole('dialog', { name: 'This book has changes that are not saved' })
      .getByRole('button', { name: 'Go on without saving' })
      .click();
    await expect.poll(async () => (await readdir(join(app.data, 'recovery'))).length).toBe(0);
    await next.context().close();
  });

  it('by keyboard only: a new book, a figure, saved', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Control+Alt+n');
    await page.getByRole('dialog', { name: 'Start a book' }).waitFor();
    // The title has the focus; on over the author to the first instrument.
    await page.keyboard.type('Keys Only');
    await press(page, 'Tab', 'Tab', 'Space', 'Enter');
    await page.locator('.top-title', { hasText: 'Keys Only' }).waitFor();
    await press(page, 'Alt+f');
    await expect.poll(() => page.evaluate('document.activeElement.id')).toBe('figure');
    await press(page, 'Control+a');
    await page.keyboard.type('5 4 3 2 1');
    await press(page, 'Control+k');
    await page.keyboard.type('another name');
    await press(page, 'Enter');
    await page.getByLabel('Name of the file').focus();
    await press(page, 'Enter');
    await page.getByText('Saved as keys-only.twelvefold.').first().waitFor();
    expect(JSON.parse(await readFile(join(app.root, 'keys-only.twelvefold'), 'utf8')).chapters[0].exercises[0].figure).toBe('5 4 3 2 1');
    await press(page, 'Alt+ArrowDown', 'Alt+3', 'Alt+PageDown');
    await page.getByRole('region', { name: 'Pages side by side' }).waitFor();
    await page.context().close();
  });

  it('files that are damaged or changed elsewhere: a clear message, and nothing is lost', async () => {
    await writeFile(join(app.root, 'damaged.twelvefold'), '{"format": "twelvefold", "version": 1, ');
    const page = await app.open({ fresh: true });
    await page.getByRole('button', { name: 'Open a book' }).click();
    await page.getByRole('button', { name: /^damaged/ }).click();
    await page.locator('.notice', { hasText: 'cut short' }).waitFor();
    await page.locator('.top-title', { hasText: 'Small Wheels' }).waitFor();

    const save = async (name: string) => {
      await press(page, 'Control+s');
      if (name) {
        await page.getByLabel('Name of the file').fill(name);
        await page.getByRole('button', { name: 'Save here' }).click();
        await page.getByText(`Saved as ${name}.twelvefold.`).first().waitFor();
      }
    };
    await save('shared');
    const file = join(app.root, 'shared.twelvefold');
    await writeFile(file, (await readFile(file, 'utf8')).replace('Small Wheels', 'Changed Elsewhere'));
    await press(page, 'Alt+2');
    await figureOf(page).fill('1 2 1');
    await save('');
    const dialog = page.getByRole('dialog', { name: 'The file was changed elsewhere' });
    await dialog.getByRole('button', { name: 'Save under another name' }).click();
    await page.getByLabel('Name of the file').fill('mine');
    await page.getByRole('button', { name: 'Save here' }).click();
    await page.getByText('Saved as mine.twelvefold.').first().waitFor();
    expect(await readFile(file, 'utf8')).toContain('Changed Elsewhere');
    await page.context().close();
  });
});
