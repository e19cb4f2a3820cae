/** The job, through a port as the window meets it. */
import { readFileSync } from 'node:fs';
import { mkdtemp, readdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readBookSource } from '../../core/book/read.js';
import type { BookSource } from '../../core/book/schema.js';
import type { Ask } from '../../electron/services/contract/questions.js';
import { startedJob } from './started-job.js';

const job = startedJob();
const { value } = job;

function demo(): BookSource {
  const read = readBookSource(readFileSync(new URL('../../assets/books/small-wheels.twelvefold', import.meta.url), 'utf8'));
  if (!read.ok) throw new Error('the demo book reads');
  return read.value;
}

const source = demo();
const plain: Ask<'show'> = {
  source,
  edition: 0,
  focus: { chapter: 0, exercise: 1 },
  pages: [],
  withFocus: true,
  have: {},
  breather: {},
  bpm: undefined,
  manner: 'in-time',
  hasty: false,
  first: false,
  tell: true,
};

describe('show', () => {
  it('draws the pages of the exercise in focus and tells its notes', async () => {
    const shown = await value('show', plain);
    expect(shown.drawn.map((it) => it.page)).toEqual(shown.focusPages);
    expect(shown.drawn[0]?.svg).toContain('data-exercise="three-steps"');
    // Three steps in B flat, E flat and F for a flute: by hand from the figure 1 2 3 2.
    expect(shown.exercise?.notes.map((note) => note.written.slice(0, -1)).join(' ')).toBe('B♭ C D C E♭ F G F F G A G');
    expect(shown.exercise?.statements.map((it) => it.keyWords)).toEqual(['B flat major', 'E flat major', 'F major']);
    expect(shown.firstPage['0.0']).toBe(shown.chapterPage[0]);
    expect(shown.instrument).toBe('Flute');
  });

  it('the first exercises alone are set first, and their page is the page of the whole book', async () => {
    const focus = { chapter: 0, exercise: 0 };
    const first = await value('show', { ...plain, focus, first: true });
    const whole = await value('show', { ...plain, focus });
    expect(first.partial && !whole.partial).toBe(true);
    expect(first.pages.length).toBeLessThan(whole.pages.length);
    expect(first.drawn[0]?.svg).toBe(whole.drawn[0]?.svg);
    for (const later of [plain.focus, { chapter: 1, exercise: 0 }]) {
      expect((await value('show', { ...plain, first: true, focus: later })).partial).toBe(false);
    }
  });

  it('sends a page once: with its stamp the window says that it has it', async () => {
    const shown = await value('show', plain);
    const first = shown.drawn[0];
    const again = await value('show', { ...plain, have: { [first?.page ?? -1]: first?.stamp ?? '' } });
    expect(again.drawn[0]).toEqual({ page: first?.page, stamp: first?.stamp, svg: undefined });
  });

  it('re-sets the page for another instrument', async () => {
    const shown = await value('show', { ...plain, edition: 2 });
    expect(shown.instrument).toBe('Alto saxophone');
    // A written G sounds B flat on the alto saxophone.
    expect(shown.exercise?.statements[0]).toMatchObject({ key: 'G', sounding: 'B♭' });
  });

  it('breaths appear and vanish with the tempo', async () => {
    const count = async (bpm: number) => (await value('show', { ...plain, bpm })).exercise?.breathing?.breaths.length;
    expect(await count(60)).toBeGreaterThan((await count(400)) ?? 99);
  });

  it('holds the page back while the figure cannot be read', async () => {
    const half = structuredClone(source);
    const exercise = half.chapters[0]?.exercises[1];
    if (exercise) exercise.figure = '1 2 b';
    const before = await value('show', plain);
    const shown = await value('show', { ...plain, source: half });
    expect(shown.outdated).toEqual(['0.1']);
    expect(shown.issues[0]).toMatchObject({ code: 'figure-no-degree', span: [4, 5] });
    expect(shown.drawn.map((it) => it.stamp)).toEqual(before.drawn.map((it) => it.stamp));
  });

  it('sends the page without the notes to someone who types, and the notes alone afterwards', async () => {
    const page = await value('show', { ...plain, tell: false });
    const notes = await value('show', { ...plain, pages: [], withFocus: false });
    const both = await value('show', plain);
    expect(page.exercise).toBeUndefined();
    expect(page.drawn).toEqual(both.drawn);
    expect(notes.drawn).toEqual([]);
    expect(notes.exercise).toEqual(both.exercise);
  });

  it('answers only the newest of questions that come together', async () => {
    const [first, second] = await Promise.all([job.ask('show', plain), job.ask('show', { ...plain, edition: 1 })]);
    expect(first.ok ? undefined : first.issues[0]?.code).toBe('overtaken');
    expect(second.ok && second.value.instrument).toBe('Clarinet in B♭');
  });

  it('a book that is no book has no pages and says why', async () => {
    const shown = await value('show', { ...plain, source: { format: 'other' } });
    expect(shown.pages).toEqual([]);
    expect(shown.issues.length).toBeGreaterThan(0);
  });
});

describe('the smaller services', () => {
  it('lists everything that a book may name', async () => {
    const lists = await value('lists', {});
    expect(lists.wheel.map((it) => it.shown).join(' ')).toBe('C G D A E B F♯ D♭ A♭ E♭ B♭ F');
    expect(lists.orders.find((it) => it.name === 'fourths')?.spots).toEqual([0, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1]);
    expect(lists.keyboard).toHaveLength(88);
    expect(lists.keyboard.filter((it) => it.black)).toHaveLength(36);
    expect(lists.keyboard.find((it) => it.name === 'A4')?.key).toBe(69);
  });

  it.each([
    ['a library figure', { library: 'cell-1-2-3-5', text: undefined }, [60, 62, 64, 67]],
    ['degrees', { library: undefined, text: '1 b3 r 5' }, [60, 63, undefined, 67]],
  ])('figure: %s', async (_name, ask, keys) => {
    const view = await value('figure', { ...ask, clef: 'treble' });
    expect(view.keys).toEqual(keys);
    expect(view.svg).toContain('data-role="notehead"');
  });

  it.each([
    ['figure', { library: 'nothing', text: undefined, clef: 'treble' }, 'unknown-figure'],
    ['figure', { library: undefined, text: '1,2', clef: 'treble' }, 'figure-comma'],
    ['staff', { clef: 'bass', notes: ['H9'] }, 'not-a-note'],
    ['perform', { ...plain, focus: { chapter: 9, exercise: 9 }, breaths: true }, 'exercise-not-shown'],
  ] as const)('%s: a wrong ask is an issue', async (channel, ask, code) => {
    const { pages: _p, withFocus: _w, have: _h, hasty: _y, first: _f, tell: _t, ...rest } = ask as Ask<'show'>;
    const answer = await job.ask(channel, rest as never);
    expect(answer.ok ? undefined : answer.issues[0]?.code).toBe(code);
  });

  it('performs with breaths: notes in hertz, a count-in of one bar before zero', async () => {
    const performance = await value('perform', {
      source,
      edition: 2,
      focus: { chapter: 0, exercise: 1 },
      bpm: 60,
      breather: {},
      manner: 'added-beat',
      breaths: true,
    });
    const dry = await value('perform', {
      source,
      edition: 2,
      focus: { chapter: 0, exercise: 1 },
      bpm: 60,
      breather: {},
      manner: 'added-beat',
      breaths: false,
    });
    expect(performance.countIn.map((it) => it.at)).toEqual([-4, -3, -2, -1]);
    expect(performance.notes).toHaveLength(12);
    expect(dry.seconds).toBe(12);
    expect(performance.seconds).toBeGreaterThan(dry.seconds);
    // The alto saxophone's written G4 sounds B flat 3: 233.08 Hz (ISO 16, equal temperament).
    expect(performance.notes[0]?.hertz).toBeCloseTo(233.08, 2);
  });

  it('fits: every exercise with every instrument, in the key that all share', async () => {
    const fits = await value('fits', { source });
    expect(fits.editions).toHaveLength(5);
    expect(fits.rows).toHaveLength(11);
    expect(new Set(fits.rows[0]?.cells.map((it) => it.sounding))).toEqual(new Set(['B♭']));
  });

  it('proves an edition, rule by rule', async () => {
    const proof = await value('prove', { source, edition: 0, ticket: 'proof' });
    expect(proof.rules.filter((it) => it.checked > 0).length).toBeGreaterThan(15);
    expect(proof.faults.every((fault) => fault.what.length > 10)).toBe(true);
  });
});

describe('build', () => {
  it('writes what was asked for and tells how far it is', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    const built = await value('build', { source, editions: [0], folder, kinds: ['pdf', 'midi', 'svg'], ticket: 'one' });
    expect(built.files.map((it) => it.name)).toEqual(['small-wheels-flute.pdf', 'small-wheels-flute-midi', 'small-wheels-flute-pages']);
    expect((await readdir(folder)).sort()).toEqual(['small-wheels-flute-midi', 'small-wheels-flute-pages', 'small-wheels-flute.pdf']);
    expect(await readdir(join(folder, 'small-wheels-flute-midi'))).toHaveLength(11);
    expect(await readdir(join(folder, 'small-wheels-flute-pages'))).toHaveLength(built.files[2]?.pages ?? 0);
    expect(job.progress.filter((it) => it.ticket === 'one').length).toBeGreaterThan(3);
  });

  it('stops when asked, and leaves nothing half-written', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    const going = job.ask('build', { source, editions: [0, 1, 2, 3, 4], folder, kinds: ['pdf'], ticket: 'two' });
    job.cancel('two');
    const answer = await going;
    expect(answer.ok ? undefined : answer.issues[0]?.code).toBe('stopped');
    expect((await readdir(folder)).filter((name) => !name.endsWith('.pdf'))).toEqual([]);
  });

  it.each([
    ['a folder that is a file', new URL('./job.test.ts', import.meta.url).pathname, 'not-a-folder'],
    ['a folder below a file', `${new URL('./job.test.ts', import.meta.url).pathname}/x`, 'file-enotdir'],
  ])('%s', async (_name, folder, code) => {
    const answer = await job.ask('build', { source, editions: [0], folder, kinds: ['pdf'], ticket: 'three' });
    expect(answer.ok ? undefined : answer.issues[0]?.code).toBe(code);
  });
});
