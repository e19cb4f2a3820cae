/** Where the keyboard is after an action: where the work is, and never at the top of the window. */
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type App, hasChromium, needs, press, startApp } from './app.js';

let app: App;

beforeAll(async () => {
  if (hasChromium) app = await startApp();
});
afterAll(() => app?.close());

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
const focused = (page: Page) =>
  page.evaluate(`(() => {
    const at = document.activeElement;
    return at.getAttribute('aria-label') ?? at.labels?.[0]?.textContent ?? (at === document.body ? '' : at.textContent);
  })()`);
const chosenText = (page: Page) => page.evaluate('getSelection().toString()');

describe.skipIf(!hasChromium)(`the keyboard keeps its place${needs}`, () => {
  it('a roster and an ensemble: the example, a new one, and closing', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+4');
    await button(page, 'Students').click();
    const enter = async (name: string) => {
      await button(page, name).focus();
      await press(page, 'Enter');
    };
    await enter('Look at an example');
    await expect.poll(() => focused(page)).toBe('Wilhelmina O.Flute');
    await enter('Close');
    await expect.poll(() => focused(page)).toBe('Start a roster');
    await press(page, 'Enter');
    await expect.poll(() => focused(page)).toBe('Add a student');
    await press(page, 'Enter');
    await expect.poll(() => focused(page)).toBe('Name or initials');
    await enter('Measure a long tone');
    await expect.poll(() => focused(page)).toBe('Start with the tone');
    await press(page, 'Enter');
    await expect.poll(() => focused(page)).toBe('Stop with the tone');
    await press(page, 'Enter', 'Tab');
    await expect.poll(() => focused(page)).toMatch(/^Keep /);

    await button(page, 'Ensemble').click();
    await enter('Look at an example');
    await expect.poll(() => focused(page)).toBe('Piccolo1 player');
    await enter('Close');
    await expect.poll(() => focused(page)).toBe('Start an ensemble');
    await press(page, 'Enter');
    await expect.poll(() => focused(page)).toBe('Flute1 player');
    await page.context().close();
  });

  it('the demo book out of an empty window: the first exercise of its outline', async () => {
    const page = await app.open({ fresh: true });
    await page.route('**/call/book-demo', (route) => route.fulfill({ json: { ok: false, issues: [] } }));
    await page.reload();
    await button(page, 'Open the demo book').waitFor();
    await page.unroute('**/call/book-demo');
    await button(page, 'Open the demo book').focus();
    await press(page, 'Enter');
    await expect.poll(() => focused(page)).toMatch(/^Long notes/);
    await page.context().close();
  });

  it('an exercise is opened or made: its figure, and what stands in a new one is replaced by typing', async () => {
    const page = await app.open({ fresh: true });
    await page.locator('.outline .item-main').nth(1).focus();
    await press(page, 'Enter');
    await expect.poll(() => focused(page)).toBe('Figure');
    await press(page, 'Alt+1');
    await button(page, 'Edit').focus();
    await press(page, 'Enter');
    await expect.poll(() => focused(page)).toBe('Figure');
    await press(page, 'Control+Enter');
    await expect.poll(() => chosenText(page)).toBe('1 2 3 4 5 4 3 2 1');
    await page.keyboard.type('1 3 5');
    expect(await page.getByRole('textbox', { name: 'Figure', exact: true }).inputValue()).toBe('1 3 5');
    await press(page, 'Control+p');
    await expect.poll(() => focused(page)).toBe('Write the files');
    await page.context().close();
  });

  it('a dialog opened from nowhere gives the keyboard to the work, not to the link that skips to it', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+h');
    await page.getByRole('dialog', { name: 'Keys' }).waitFor();
    await press(page, 'Escape');
    await expect.poll(() => focused(page)).toBe('Add a chapter');
    await page.context().close();
  });

  it('at the ends of the book nothing moves, and the button says so and keeps the keyboard', async () => {
    const page = await app.open({ fresh: true });
    const titles = () => page.locator('.outline .item-title').allTextContents();
    const before = await titles();
    const up = button(page, 'Move up');
    expect(await up.getAttribute('aria-disabled')).toBe('true');
    expect(await button(page, 'Move down').getAttribute('aria-disabled')).toBe('false');
    await up.focus();
    await press(page, 'Enter');
    expect(await titles()).toEqual(before);
    expect(await focused(page)).toBe('Move up');
    await press(page, 'Alt+2');
    expect(await button(page, 'Previous exercise').getAttribute('aria-disabled')).toBe('true');
    expect(await button(page, 'Next exercise').getAttribute('aria-disabled')).toBe('false');
    await page.context().close();
  });
});

describe.skipIf(!hasChromium)(`what is told stays in sight${needs}`, () => {
  const inSight = async (page: Page, selector: string): Promise<boolean> => {
    const box = await page.locator(selector).first().boundingBox();
    return box !== null && box.y >= 0 && box.y + box.height <= (page.viewportSize()?.height ?? 0);
  };

  it('a proof tells its result where it was asked for, and files written before do not hide the faults', async () => {
    const page = await app.open({ fresh: true });
    await page.setViewportSize({ width: 1200, height: 600 });
    await press(page, 'Alt+5');
    await button(page, 'Proof this instrument').click();
    await page.getByText(/rules: no fault/).waitFor();
    await expect.poll(() => inSight(page, 'p.good >> text=rules: no fault')).toBe(true);

    await button(page, 'Choose the folder').click();
    await page.getByLabel('New folder in here, if you want one').fill('in-sight');
    await button(page, 'Choose this folder').click();
    await button(page, 'Write the files').click();
    await page.locator('.results > p', { hasText: /^5 files written/ }).waitFor();
    await expect.poll(() => inSight(page, '.results > p')).toBe(true);
    await press(page, 'Alt+2');
    await page.getByRole('textbox', { name: 'Figure', exact: true }).fill('1 2 b3, 5');
    await page.locator('.figure-under .wrong').first().waitFor();
    await press(page, 'Alt+5');
    await page.locator('.faults li').first().waitFor();
    await expect.poll(() => inSight(page, '.faults li')).toBe(true);
    // Well is only what was looked at.
    await button(page, 'Proof this instrument').click();
    await page.getByText('What has a fault above is no part of this proof.').waitFor();
    expect(await page.locator('.good', { hasText: 'rules: no fault' }).count()).toBe(0);
    await page.context().close();
  });

  it('an empty book says in every place what comes next', async () => {
    const page = await app.open({ fresh: true });
    await button(page, 'New book').click();
    const dialog = page.getByRole('dialog', { name: 'Start a book' });
    await dialog.getByLabel('Flute', { exact: true }).check();
    await button(page, 'Make the book').click();
    await page.getByText('G♭', { exact: true }).first().waitFor();
    // The wheel names the key as the page does.
    expect(await page.locator('.wheel-key text').allTextContents()).not.toContain('F♯');
    await press(page, 'Alt+1');
    await button(page, 'Delete: First chapter').click();
    await page.getByText('This book has no chapter yet').waitFor();
    expect(await button(page, 'Add a chapter').count()).toBe(1);
    await press(page, 'Alt+4');
    await button(page, 'Take out: Flute').click();
    await page.getByText('No instrument yet. Add one below').waitFor();
    expect(await page.getByText('Playing together').count()).toBe(0);
    await press(page, 'Alt+5');
    await page.getByText('The book has no instrument; add at least one.').waitFor();
    expect(await page.locator('.faults').textContent()).not.toContain('["flute"]');
    await button(page, 'Go to the instruments').click();
    await page.getByText('Instruments of the book').waitFor();
    await press(page, 'Alt+3');
    await button(page, 'Go to the players').click();
    await button(page, 'Add').click();
    await press(page, 'Alt+3');
    await button(page, 'Go to the book').click();
    await page.getByText('This book has no chapter yet').waitFor();
    await page.context().close();
  });
});

describe.skipIf(!hasChromium)(`the file window${needs}`, () => {
  it('a folder is named where a file is meant: it is opened, and the name is kept; a folder with the ending is no place for a book', async () => {
    await mkdir(join(app.root, 'lessons', 'taken.twelvefold'), { recursive: true });
    await writeFile(join(app.root, 'lessons', 'old.twelvefold'), '{}');
    const page = await app.open({ fresh: true });
    await press(page, 'Control+s');
    const name = page.getByLabel('Name of the file');
    const given = await name.inputValue();
    await name.fill('lessons/');
    await press(page, 'Enter');
    await page.locator('dialog .path', { hasText: /lessons$/ }).waitFor();
    expect(await name.inputValue()).toBe(given);
    await name.fill('taken');
    await press(page, 'Enter');
    await page.locator('.notice', { hasText: '"taken.twelvefold" is a folder; choose another name for the file.' }).waitFor();
    await page.locator('.top-state', { hasText: 'Demo book' }).waitFor();

    // Where only books stand, a chooser of folders says what to do.
    await mkdir(join(app.root, 'books-only'));
    await writeFile(join(app.root, 'books-only', 'one.twelvefold'), '{}');
    await press(page, 'Alt+5');
    await button(page, 'Choose the folder').click();
    await page
      .getByRole('dialog')
      .getByRole('button', { name: /^books-only/ })
      .click();
    await page.getByText('There are no folders in here. You can choose this one.').waitFor();
    await page.context().close();
  });

  it('the window never complained', () => expect(app.complaints).toEqual([]));
});
