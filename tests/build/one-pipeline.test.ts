/**
 * The same book gives the same music everywhere: for random books and every field of an edition, what the window shows and
 * plays is what a build prints and an export writes. The MIDI files are read by an independent library.
 */
import toneMidi from '@tonejs/midi';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Book } from '../../core/book/book.js';
import type { JsonObject } from '../../core/book/json.js';
import { readBook } from '../../core/book/read.js';
import { breathsOf } from '../../core/breath/policy.js';
import { type BuiltEdition, buildEdition } from '../../core/build/edition.js';
import { type Workshop, workshop } from '../../core/build/workshop.js';
import { secondsPerWhole, tempoOf } from '../../core/exercise/tempo.js';
import { editionFiles } from '../../core/export/edition-files.js';
import { exportFiles } from '../../core/export/formats.js';
import { linesOf, type Selection } from '../../core/export/selection.js';
import { toNumber } from '../../core/theory/fraction.js';
import { barLength } from '../../core/theory/metre.js';
import { breathingView, settingsFor } from '../../electron/services/job/breath-view.js';
import { performExercise } from '../../electron/services/job/playback.js';
import { testFonts } from '../fonts.js';
import { value } from '../player/fixture.js';
import { book as randomWish } from '../proof/random-book.js';

const fonts = testFonts();
const from = <T>(...values: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...values);
const maybe = <T>(values: fc.Arbitrary<T>) => fc.option(values, { nil: undefined });

const breath = fc.record({
  print: maybe(from('none', 'marks', 'marks and ladders')),
  manner: maybe(from('in time', 'added beat')),
  added: maybe(from('1/2', '1/4', '1/8', '3/8')),
  player: maybe(
    from(
      { longTone: 14 },
      { lungTime: 9 },
      { lungs: 'child' },
      { age: 15, height: 170 },
      { age: 40, height: 180, sex: 'female', experience: 'advanced' },
      { lungs: 'teen', experience: 'beginner' },
    ),
  ),
});

/** Every field that an edition can state; a compass is left to the instrument, since its notes must fit it. */
const edition = fc.record({
  level: maybe(from('beginner', 'intermediate', 'advanced', 'professional')),
  spelling: maybe(fc.record({ tie: from('flats', 'sharps'), prefer: from([], ['F#'], ['Cb']) })),
  staff: maybe(from(7, 8, 9)),
  page: maybe(from('letter', 'a4', '9x12', 'jis-b4')),
  breath: maybe(breath),
});

const wish = fc.record({ book: randomWish, edition, breath: maybe(breath), dynamic: maybe(from('pp', 'mf', 'ff')) });
type Wish = typeof wish extends fc.Arbitrary<infer T> ? T : never;

/** The book file of a wish. Fields that are undefined are not written. */
function sourceOf({ book, edition: own, breath: ofBook, dynamic }: Wish): JsonObject {
  const exercises = book.exercises.map((it) => ({ ...it, ...(dynamic ? { dynamic } : {}) }));
  return JSON.parse(
    JSON.stringify({
      format: 'twelvefold',
      version: 1,
      title: 'Random',
      date: '2026-03-01',
      breath: ofBook,
      editions: [{ instrument: book.instrument, ...own }],
      extras: { compassChart: false, keyChart: false, figureIndex: false, scaleAppendix: false },
      chapters: [{ title: 'Random', exercises }],
    }),
  );
}

/** Every mark of every page, in order, and what the pages say beside it. */
const marksOf = ({ document }: BuiltEdition): unknown =>
  document.pages.map(({ items, ...page }) => ({
    ...page,
    items: items.map((item) => (item.kind === 'drawing' ? { ...item, draw: item.draw().marks } : item)),
  }));

const breathsIn = ({ breathing }: BuiltEdition): unknown =>
  breathing && { ...breathing, exercises: [...breathing.exercises].map(([id, { marks, words }]) => [id, marks, words]) };

/** MIDI key number, start and length in seconds. */
type Sounded = readonly [key: number, start: number, length: number];

const keyOf = (hertz: number): number => Math.round(69 + 12 * Math.log2(hertz / 440));

/** As the window plays: times from the first beat of the music. */
function inWindow(source: JsonObject, shop: Workshop, exercise: number): { readonly bpm: number; readonly notes: readonly Sounded[] } {
  const ask = { source, edition: 0, focus: { chapter: 0, exercise }, bpm: undefined, breaths: true };
  const run = value(performExercise(ask, shop));
  return { bpm: run.bpm, notes: run.notes.map(({ hertz, start, length }) => [keyOf(hertz ?? Number.NaN), start, length]) };
}

/** As an independent reader hears a file: the clicks of a bar go before. */
function inMidi(bytes: Uint8Array): Sounded[] {
  const tracks = new toneMidi.Midi(bytes).tracks.filter(({ channel }) => channel !== 9);
  return tracks.flatMap(({ notes }) => notes.map(({ midi, time, duration }): Sounded => [midi, time, duration]));
}

/** A tick of MIDI at the slowest tempo is about three milliseconds. */
function expectSameSound(heard: readonly Sounded[], exported: readonly Sounded[], countIn: number): void {
  expect(exported.map(([key]) => key)).toEqual(heard.map(([key]) => key));
  const [times, wanted] = [exported, heard].map((notes, i) => notes.map(([, start]) => start - (i === 0 ? countIn : 0)));
  const off = (a: readonly number[] = [], b: readonly number[] = []) =>
    Math.max(0, ...a.map((it, i) => Math.abs(it - (b[i] ?? Number.NaN))));
  expect(off(times, wanted)).toBeLessThan(0.005);
  expect(
    off(
      exported.map(([, , length]) => length),
      heard.map(([, , length]) => length),
    ),
  ).toBeLessThan(0.01);
}

async function midiFiles(book: Book): Promise<Uint8Array[]> {
  const [spec] = book.editions;
  if (!spec) throw new Error('a book has an edition');
  const exercises = book.chapters.flatMap((chapter, c) =>
    chapter.exercises.map((exercise, e) => ({ exercise, path: ['chapters', c, 'exercises', e] })),
  );
  const selection: Selection = { book, edition: spec, lines: value(linesOf(exercises, spec, true)), title: '', stem: 'random', fonts };
  const files = value(await exportFiles('midi', selection, { countIn: 1 }, () => new Uint8Array()));
  return files.flatMap((file) => [...file.chunks()].map((chunk) => chunk as Uint8Array));
}

/** Compares everything that the same edition gives in three places; false for a book that cannot be built. */
async function agree(asked: Wish): Promise<boolean> {
  const source = sourceOf(asked);
  const read = readBook(JSON.stringify(source));
  const spec = read.ok ? read.value.editions[0] : undefined;
  const built = read.ok && spec ? buildEdition(read.value, spec, fonts) : undefined;
  if (!read.ok || !spec || !built?.ok) return false;
  const book = read.value;
  const shop = workshop(fonts);
  const draft = shop.read(source);
  const shown = value(shop.build(draft, 0));
  expect(marksOf(shown)).toEqual(marksOf(built.value));
  expect(breathsIn(shown)).toEqual(breathsIn(built.value));
  const printing = editionFiles(built.value, 'midi', fonts).map((make) => value(make()));
  const exported = await midiFiles(book);
  expect(printing.map(({ bytes }) => Buffer.from(bytes))).toEqual(exported.map((bytes) => Buffer.from(bytes)));
  for (const [i, line] of [...built.value.lines.values()].entries()) {
    const tempo = tempoOf(line.exercise);
    const bytes = exported[i];
    if (!bytes) throw new Error('every exercise has its file');
    const heard = inWindow(source, shop, i);
    expect(heard.bpm).toBe(tempo.bpm);
    expectSameSound(heard.notes, inMidi(bytes), toNumber(barLength(line.exercise.metre)) * secondsPerWhole(tempo));
    const view = breathingView(line, tempo, settingsFor(spec, {}), shop);
    const printed = value(breathsOf(line, spec.breath));
    if (printed) expect(view.rungs).toEqual(printed.ladder.rungs.map(({ bpm, plan }) => ({ bpm, count: plan?.breaths.length })));
  }
  return true;
}

it('window, build and export agree in drawings, breath marks, tempo and sound', async () => {
  let compared = 0;
  await fc.assert(
    fc.asyncProperty(wish, async (asked) => {
      if (await agree(asked)) compared++;
    }),
    { numRuns: 40, seed: 5 },
  );
  expect(compared).toBeGreaterThan(25);
});
