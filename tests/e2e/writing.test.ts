/** Writing the files of a book: the keyboard's place on the way, and what could not be written. */
import { copyFile, mkdir, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type App, focusedElement, hasChromium, needs, press, startApp } from './app.js';

let app: App;
const daybook = fileURLToPath(new URL('../../assets/books/keywrights-daybook.twelvefold', import.meta.url));

beforeAll(async () => {
  if (hasChromium) app = await startApp();
});
afterAll(() => app?.close());

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

describe.skipIf(!hasChromium)(`writing files${needs}`, () => {
  it('by keyboard only, and it keeps its place: what is switched off or goes away hands the focus to what is beside it', async () => {
    await mkdir(join(app.root, 'kept'));
    await copyFile(daybook, join(app.root, 'kept', 'daybook.twelvefold'));
    const page = await app.open({ fresh: true });
    const focused = () => page.evaluate("document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent");
    await press(page, 'Control+o');
    await expect.poll(focused).toMatch(/Folder$/);
    await page.getByRole('dialog').getByRole('button', { name: /^kept/ }).focus();
    await press(page, 'Enter');
    await expect.poll(focused).toMatch(/^daybook\.twelvefold/);
    await press(page, 'Enter');
    await page.getByText('Opened daybook.twelvefold.').first().waitFor();
    await press(page, 'Alt+5');
    await button(page, 'Books: None').focus();
    await press(page, 'Enter');
    await expect.poll(focused).toBe('Books: All');
    await press(page, 'Enter');
    await expect.poll(focused).toBe('Books: None');
    await button(page, 'Choose the folder').focus();
    await press(page, 'Enter');
    await expect.poll(() => focusedElement(page)).toBe('input');
    await page.keyboard.type('kept-prints');
    await press(page, 'Enter');
    await button(page, 'Write the files').focus();
    await press(page, 'Enter');
    await page.getByText(/: page \d/).waitFor();
    // It is there all the time, and does nothing meanwhile.
    expect(await focused()).toBe('Write the files');
    await press(page, 'Enter', 'Tab');
    await expect.poll(focused).toBe('Stop');
    await press(page, 'Enter');
    await page.getByText('Stopped, as you wished').first().waitFor();
    await expect.poll(focused).toBe('Write the files');
    expect(await button(page, 'Write the files').isEnabled()).toBe(true);
    // What is there is whole, and not all twelve.
    const names = await readdir(join(app.root, 'kept-prints'));
    expect(names.filter((name) => !name.endsWith('.pdf'))).toEqual([]);
    expect(names.length).toBeLessThan(12);
    await page.context().close();
  });

  it('a file that cannot be written is named with its reason, among those that are', async () => {
    await mkdir(join(app.root, 'in-the-way', 'small-wheels-trombone.pdf'), { recursive: true });
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+5');
    await button(page, 'Choose the folder').click();
    await page
      .getByRole('dialog')
      .getByRole('button', { name: /^in-the-way/ })
      .click();
    await page.locator('.path', { hasText: /in-the-way$/ }).waitFor();
    await button(page, 'Choose this folder').click();
    await button(page, 'Write the files').click();
    await page
      .getByText(/^4 files written to .* 1 file was not written\.$/)
      .first()
      .waitFor();
    const missing = page.locator('.results .faults');
    await missing.waitFor();
    expect(await missing.textContent()).toMatch(/^Not written: Trombone.*small-wheels-trombone\.pdf/);
    // In words of a window, not of the command line.
    expect(await missing.textContent()).toMatch(/is a folder; give that folder another name, or choose another place for the files\.$/);
    expect(await page.locator('.results .file').count()).toBe(4);
    await page.context().close();
  });

  it('the window never complained', () => expect(app.complaints).toEqual([]));
});
