/** Students, ensembles, files in and out: as a user goes about it, and what is on the disk afterwards. */
import { chmod, copyFile, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { readRoster } from '../../core/people/read.js';
import { type App, drawingText, focusedElement, hasChromium, needs, press, startApp } from './app.js';

let app: App;
const asset = (name: string) => fileURLToPath(new URL(`../../assets/books/${name}`, import.meta.url));

beforeAll(async () => {
  if (hasChromium) app = await startApp();
});
afterAll(() => app?.close());

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' });
const read = (name: string) => readFile(join(app.root, name), 'utf8');

async function saveAs(page: Page, name: string): Promise<void> {
  await page.getByLabel('Name of the file').fill(name);
  await button(page, 'Save here').click();
  await page.getByText(`Saved as ${name}`).first().waitFor();
}

async function chooseFolder(page: Page, name: string): Promise<void> {
  await button(page, 'Choose the folder').click();
  await page.getByLabel('New folder in here, if you want one').fill(name);
  await button(page, 'Choose this folder').click();
}

async function open(page: Page, name: string): Promise<void> {
  await page
    .getByRole('dialog')
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .first()
    .click();
}

/** The demo book with its roster and its ensemble beside it. */
async function withCompanions(page: Page, folder: string): Promise<void> {
  await mkdir(join(app.root, folder), { recursive: true });
  for (const name of ['small-wheels.twelvefold', 'harrow-lane.roster', 'harrow-lane-band.ensemble']) {
    await copyFile(asset(name), join(app.root, folder, name));
  }
  await button(page, 'Open a book').click();
  await open(page, folder);
  await open(page, 'small-wheels');
  await page.getByText('Opened small-wheels.twelvefold.').first().waitFor();
  await press(page, 'Alt+4');
}

describe.skipIf(!hasChromium)(`people${needs}`, () => {
  it('a roster from nothing: a student, a long tone, keys, an assignment, a tempo; undone, done, saved, and read by the core', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+4');
    await button(page, 'Students').click();
    await button(page, 'Start a roster').click();
    await button(page, 'Add a student').click();
    // The name has the focus.
    await expect.poll(() => page.evaluate('document.activeElement.id')).toBe('student-name');
    await press(page, 'Control+a');
    await page.keyboard.type('Mabel T.');
    await button(page, 'Measure a long tone').click();
    await button(page, 'Start with the tone').click();
    await expect.poll(async () => Number.parseFloat((await page.locator('.clock').textContent()) ?? '')).toBeGreaterThan(1.1);
    await button(page, 'Stop with the tone').click();
    await button(page, /^Keep/).click();
    const tone = Number(await page.getByLabel('Long tone in seconds').inputValue());
    expect(tone).toBeGreaterThan(1);
    await page.getByLabel('Long tone in seconds').fill('11');
    await button(page, 'B♭').click();
    await button(page, 'F').click();
    await button(page, 'Add an assignment').click();
    await page.getByLabel('Weeks', { exact: true }).fill('1-2, 4');
    await page.getByLabel('Reached today: Long notes').fill('66');
    await button(page, 'Write down: Long notes').click();
    await page.getByText(/^reached 66 on \d{4}-\d{2}-\d{2}$/).waitFor();
    await button(page, 'Undo: tempo reached by Mabel T.').click();
    await expect.poll(() => page.getByText(/^reached 66/).count()).toBe(0);
    await press(page, 'Control+Shift+z');
    await page.getByText(/^reached 66/).waitFor();

    await page.getByRole('group', { name: 'File of the roster' }).getByRole('button', { name: 'Save', exact: true }).click();
    await saveAs(page, 'lessons.roster');
    const book = readBook(await readFile(asset('small-wheels.twelvefold'), 'utf8'));
    if (!book.ok) throw new Error('the demo book reads');
    const roster = readRoster(await read('lessons.roster'), book.value);
    if (!roster.ok) throw new Error('the core reads it');
    const [student] = roster.value.students;
    expect(student?.name).toBe('Mabel T.');
    expect(student?.breather).toEqual({ longTone: { seconds: 11 } });
    expect(student?.assignments).toMatchObject([{ exercises: ['long-home'], weeks: [1, 2, 4] }]);
    expect(student?.progress).toMatchObject([{ exercise: 'long-home', tempo: 66 }]);
    expect(student?.keys).toHaveLength(2);
    await page.context().close();
  });

  it('a fault of a roster stands at its field and in the list of faults, with a way back to it', async () => {
    const page = await app.open({ fresh: true });
    await withCompanions(page, 'faults');
    await button(page, 'Students').click();
    await button(page, 'Open a roster').click();
    await open(page, 'faults');
    await open(page, 'harrow-lane');
    await page.getByText('Compass, paper and spelling').click();
    await page.getByRole('textbox', { name: 'Lowest note' }).fill('H9');
    const issue = page.locator('.compass .field-issues li').first();
    await issue.waitFor();
    await press(page, 'Alt+5');
    await button(page, /^Show: roster, student 1, compass/)
      .first()
      .click();
    await issue.waitFor();
    await page.context().close();
  });

  it('an ensemble is opened, changed, saved without loss; booklets, parts and score are written, and come back with the book', async () => {
    const page = await app.open({ fresh: true });
    await withCompanions(page, 'band');
    await button(page, 'Students').click();
    await button(page, 'Open a roster').click();
    await open(page, 'band');
    await open(page, 'harrow-lane');
    // What is opened is shown when it is there: whoever looks elsewhere before would be called back.
    await page.getByText('Compass, paper and spelling').waitFor();
    await button(page, 'Ensemble').click();
    await button(page, 'Open an ensemble').click();
    await open(page, 'band');
    await open(page, 'harrow-lane-band');
    await page.getByLabel('Breaths of the group').selectOption('together');
    await page.getByText(/^Exercises to print/).click();
    await page.getByLabel('All exercises of the book').uncheck();
    for (const box of (await page.locator('.within[open] .check input').all()).slice(2)) await box.uncheck();
    await button(page, /^Oboe/).click();
    await button(page, 'Take out: Oboe').click();
    await press(page, 'Control+s');
    await page.getByText('Saved as harrow-lane-band.ensemble.').first().waitFor();
    const book = readBook(await read('band/small-wheels.twelvefold'));
    if (!book.ok) throw new Error('reads');
    const before = readEnsemble(await readFile(asset('harrow-lane-band.ensemble'), 'utf8'), book.value);
    const after = readEnsemble(await read('band/harrow-lane-band.ensemble'), book.value);
    if (!before.ok || !after.ok) throw new Error('the core reads both');
    expect(after.value.chairs).toEqual(before.value.chairs.filter(({ id }) => id !== 'oboe'));
    expect(after.value.bonds).toEqual(before.value.bonds);
    expect(after.value.breathing.plan).toBe('together');
    expect(after.value.exercises).toHaveLength(1);

    await press(page, 'Alt+5');
    await button(page, 'Books: None').click();
    await page.getByLabel('J. T.').check();
    await page.getByLabel('Summary of all students').check();
    await page.getByLabel('Tuba').check();
    await page.getByLabel('Score', { exact: true }).check();
    await chooseFolder(page, 'band-prints');
    await button(page, 'Write the files').click();
    await page
      .getByText(/^4 files written to/)
      .first()
      .waitFor();
    expect((await readdir(join(app.root, 'band-prints'))).sort()).toEqual([
      'small-wheels-harrow-lane-band-score.pdf',
      'small-wheels-harrow-lane-band-tuba.pdf',
      'small-wheels-j-t-clarinet-in-b-flat.pdf',
      'small-wheels-summary.pdf',
    ]);
    // What lay beside the book is there again when it is opened anew.
    await button(page, 'Open a book').click();
    await open(page, 'band');
    await open(page, 'small-wheels');
    await press(page, 'Alt+4');
    await button(page, 'Students').click();
    await page.getByRole('group', { name: 'File of the roster' }).getByText('harrow-lane.roster').waitFor();
    await page.context().close();
  });

  it('the breath marks of a student are printed, and can be undone', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+2');
    await page.locator('.contour').waitFor();
    await page.locator('.beside .drawing').first().waitFor();
    const before = await drawingText(page, '.beside .drawing');
    await page.getByLabel('Who breathes').selectOption('child');
    await button(page, 'Print these breath marks').click();
    await expect.poll(async () => (await drawingText(page, '.beside .drawing')) !== before).toBe(true);
    await expect.poll(() => button(page, 'Print these breath marks').isDisabled()).toBe(true);
    await button(page, 'Undo: breath marks of Flute').click();
    await expect.poll(() => drawingText(page, '.beside .drawing')).toBe(before);
    await page.context().close();
  });
});

const MIDI = (page: Page) => page.getByRole('dialog', { name: 'Import a figure' });

describe.skipIf(!hasChromium)(`files in and out${needs}`, () => {
  it('by keyboard only: an exercise goes out as sound and as notation, and comes in again', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+2', 'Alt+ArrowDown');
    await page.locator('.contour').waitFor();
    await press(page, 'Alt+x');
    const dialog = page.getByRole('dialog', { name: 'Export the exercise' });
    await dialog.waitFor();
    // The kind of file has the focus and letters choose; no count-in and no metronome, and Enter in a field writes.
    await expect.poll(() => focusedElement(page)).toBe('select');
    const kind = dialog.getByLabel('Kind of file');
    const chosen = async () => {
      await page.keyboard.type('MIDI');
      return kind.inputValue();
    };
    // Letters that come a second apart, on a machine that is very slow, are no word to a browser: they are typed once more.
    await expect.poll(chosen, { interval: 1500 }).toBe('midi');
    await press(page, 'Tab', 'Tab', '0', 'Tab', 'Space', 'Shift+Tab', 'Enter');
    await page.getByRole('dialog', { name: 'Choose a folder' }).waitFor();
    await expect.poll(() => focusedElement(page)).toBe('input');
    await page.keyboard.type('out');
    await press(page, 'Enter');
    await dialog.getByText(/^1 file written to/).waitFor();
    await kind.selectOption('wav');
    await dialog.getByLabel('With a drone on the root of each key').check();
    await dialog.getByLabel('One run at each tempo up to the goal').check();
    await button(page, 'Write the file').click();
    await expect
      .poll(async () => (await readdir(join(app.root, 'out'))).sort())
      .toEqual(['small-wheels-flute-three-steps.mid', 'small-wheels-flute-three-steps.wav']);
    await press(page, 'Escape', 'Alt+i');
    await MIDI(page).waitFor();
    await expect.poll(() => page.evaluate('document.activeElement.textContent')).toBe('Choose a file');
    const chooser = page.waitForEvent('filechooser');
    await press(page, 'Enter');
    await (await chooser).setFiles(join(app.root, 'out', 'small-wheels-flute-three-steps.mid'));
    await MIDI(page)
      .getByText(/% sure/)
      .first()
      .waitFor();
    await MIDI(page).getByLabel('Another key').fill('Bb');
    await press(page, 'Tab', 'Enter');
    await MIDI(page).getByText('as you said').waitFor();
    await expect.poll(() => MIDI(page).getByLabel('Figure', { exact: true }).inputValue()).toMatch(/^1 2 3 2/);
    await MIDI(page).getByLabel('Figure', { exact: true }).fill('1 2 3 2 1');
    await button(page, 'Add as a new exercise').click();
    await expect.poll(() => page.getByRole('textbox', { name: 'Figure', exact: true }).inputValue()).toBe('1 2 3 2 1');
    await button(page, 'Undo: imported figure').click();
    await page.context().close();
  });

  it('a file is dropped onto the exercise; what is too large or no score is refused with its reason', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+2');
    const drop = (name: string, make: string) =>
      page.evaluate(`(() => {
        const data = new DataTransfer();
        const file = ${make};
        data.items.add(file);
        const event = new DragEvent('drop', { bubbles: true, cancelable: true, dataTransfer: data });
        if (${JSON.stringify(name)} === 'large.mid') Object.defineProperty(event.dataTransfer.files[0], 'size', { value: 40 * 1024 * 1024 });
        document.querySelector('.work').dispatchEvent(event);
      })()`);
    await drop('no.mid', "new File(['hello'], 'no.mid')");
    await MIDI(page).getByText('This is neither MusicXML nor MIDI').waitFor();
    await press(page, 'Escape');
    await drop('large.mid', "new File(['x'], 'large.mid')");
    await MIDI(page).getByText('"large.mid" is larger than 32 MB').waitFor();
    await page.context().close();
  });
});

describe.skipIf(!hasChromium)(`trouble${needs}`, () => {
  it('a window that is closed while files are written leaves nothing half-written', async () => {
    const page = await app.open({ fresh: true });
    await press(page, 'Alt+5');
    await chooseFolder(page, 'broken-off');
    await page.getByLabel('Pictures of the pages').check();
    const folder = join(app.root, 'broken-off');
    const began = performance.now();
    await button(page, 'Write the files').click();
    await expect.poll(async () => (await readdir(folder).catch(() => [])).length, { interval: 20 }).toBeGreaterThan(0);
    const firstFile = performance.now() - began;
    await page.context().close();
    const names = async () => (await readdir(folder, { recursive: true })).sort();
    // Two looks with the same result, further apart than the first file was in coming: the writing has stopped.
    let last: string[] = [];
    const look = async (): Promise<boolean> => {
      const now = await names();
      const same = now.join() === last.join();
      last = now;
      return same && !now.some((name) => name.endsWith('.tmp'));
    };
    await expect.poll(look, { interval: Math.max(700, firstFile), timeout: 60_000 + 10 * firstFile }).toBe(true);
    expect(last.filter((name) => !/\.(pdf|svg)$|-pages$/.test(name))).toEqual([]);
    expect(last.filter((name) => name.endsWith('.pdf')).length).toBeLessThan(5);
  });

  it('a book that may only be read, and a folder that vanished: told, and nothing is lost', async () => {
    const page = await app.open({ fresh: true });
    await mkdir(join(app.root, 'gone'));
    await press(page, 'Control+s');
    await open(page, 'gone');
    await saveAs(page, 'mine.twelvefold');
    const file = join(app.root, 'gone', 'mine.twelvefold');
    const before = await readFile(file, 'utf8');
    await chmod(file, 0o444);
    await press(page, 'Alt+2');
    await page.getByRole('textbox', { name: 'Figure', exact: true }).fill('1 2 1');
    await press(page, 'Control+s');
    await page.locator('.notice', { hasText: 'may only be read' }).waitFor();
    expect(await readFile(file, 'utf8')).toBe(before);
    await rm(join(app.root, 'gone'), { recursive: true });
    await press(page, 'Control+s');
    await page.locator('.notice', { hasText: 'is no longer there' }).waitFor();
    await page.locator('.top-state', { hasText: 'Not saved' }).waitFor();
    await press(page, 'Control+Shift+s');
    await saveAs(page, 'rescued.twelvefold');
    expect(JSON.parse(await read('rescued.twelvefold')).chapters[0].exercises[0].figure).toBe('1 2 1');
    await page.context().close();
  });

  it('one book in two windows: the second is warned, and the later save asks before anything is overwritten', async () => {
    await copyFile(asset('small-wheels.twelvefold'), join(app.root, 'shared.twelvefold'));
    const pages = [await app.open(), await app.open()];
    for (const page of pages) {
      await button(page, 'Open a book').click();
      await open(page, 'shared');
      await page.getByText('Opened shared.twelvefold.').first().waitFor();
    }
    const [one, two] = pages as [Page, Page];
    await two.locator('.notice', { hasText: 'is open in another window too' }).waitFor();
    expect(await one.locator('.notice', { hasText: 'another window' }).count()).toBe(0);
    const write = async (page: Page, figure: string): Promise<void> => {
      await press(page, 'Alt+2');
      await page.getByRole('textbox', { name: 'Figure', exact: true }).fill(figure);
      await press(page, 'Control+s');
    };
    await write(one, '1 2 1');
    await one.locator('.top-state', { hasText: /^Saved$/ }).waitFor();
    await write(two, '1 3 1');
    const dialog = two.getByRole('dialog', { name: 'The file was changed elsewhere' });
    await dialog.waitFor();
    expect(JSON.parse(await read('shared.twelvefold')).chapters[0].exercises[0].figure).toBe('1 2 1');
    await dialog.getByRole('button', { name: 'Save over it' }).click();
    await expect.poll(async () => JSON.parse(await read('shared.twelvefold')).chapters[0].exercises[0].figure).toBe('1 3 1');
    for (const page of pages) await page.context().close();
  });

  it('an unsaved roster comes back after a crash; a changed one is not overwritten unasked', async () => {
    const page = await app.open();
    await press(page, 'Alt+4');
    await button(page, 'Students').click();
    await button(page, 'Start a roster').click();
    await button(page, 'Add a student').click();
    await page.getByLabel('Name or initials').fill('Found again');
    const kept = async (): Promise<boolean> => {
      const [name] = await readdir(join(app.data, 'recovery')).catch(() => []);
      return name ? (await readFile(join(app.data, 'recovery', name), 'utf8')).includes('Found again') : false;
    };
    await expect.poll(kept).toBe(true);
    await page.context().close();
    const next = await app.open();
    await next.getByRole('dialog', { name: 'Work from last time' }).getByRole('button', { name: /^Open/ }).click();
    await next.locator('.top-state', { hasText: 'Not saved' }).waitFor();
    await press(next, 'Alt+4');
    await button(next, 'Students').click();
    await expect.poll(() => next.getByLabel('Name or initials').inputValue()).toBe('Found again');
    await next.getByRole('group', { name: 'File of the roster' }).getByRole('button', { name: 'Save', exact: true }).click();
    await saveAs(next, 'again.roster');
    const file = join(app.root, 'again.roster');
    await writeFile(file, (await readFile(file, 'utf8')).replace('Found again', 'Someone else'));
    await next.getByLabel('Name or initials').fill('Third');
    await next.getByRole('group', { name: 'File of the roster' }).getByRole('button', { name: 'Save', exact: true }).click();
    await next
      .getByRole('dialog', { name: 'The file was changed elsewhere' })
      .getByRole('button', { name: 'Open the file as it is now' })
      .click();
    await expect.poll(() => next.getByLabel('Name or initials').inputValue()).toBe('Someone else');
    await next.context().close();
  });

  it('the window never complained', () => expect(app.complaints).toEqual([]));
});
