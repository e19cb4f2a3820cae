/** The editor's pages are the pages of a build, after any change; and what cannot be read does not take the page away. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readBookSource } from '../../core/book/read.js';
import { resolveBook } from '../../core/book/resolve.js';
import type { BookSource } from '../../core/book/schema.js';
import { buildEdition } from '../../core/build/edition.js';
import { type Workshop, workshop } from '../../core/build/workshop.js';
import { installedFonts } from '../../core/disk/fonts.js';
import { openFonts } from '../../core/engrave/metrics.js';
import type { Document } from '../../core/layout/page/page.js';
import { pageSvg } from '../../core/output/picture/svg.js';

const fonts = openFonts(installedFonts());
const text = readFileSync(new URL('../../assets/books/small-wheels.twelvefold', import.meta.url), 'utf8');

function demo(): BookSource {
  const read = readBookSource(text);
  if (!read.ok) throw new Error('the demo book reads');
  return read.value;
}

/** What a change of one exercise has made anew: its notes, its engraving, the pages of its chapter. */
const KINDS = ['line', 'block', 'music'];

const pagesOf = (document: Document): string[] => document.pages.map((page) => pageSvg(page, document, fonts));

/** Changes one exercise. */
function changed(source: BookSource, chapter: number, exercise: number, fields: object): BookSource {
  const chapters = source.chapters.map((it, c) =>
    c === chapter ? { ...it, exercises: it.exercises.map((one, e) => (e === exercise ? { ...one, ...fields } : one)) } : it,
  );
  return { ...source, chapters };
}

function shown(shop: Workshop, source: BookSource, edition: number) {
  const read = shop.read(source);
  const set = shop.build(read, read.editions[edition] ?? -1);
  if (!set.ok) throw new Error(set.issues.map((issue) => issue.message).join(' '));
  return { read, set: { ...set.value, issues: set.issues } };
}

function built(source: BookSource, edition: number): string[] {
  const book = resolveBook(source);
  if (!book.ok) throw new Error('the book resolves');
  const spec = book.value.editions[edition];
  const result = spec && buildEdition(book.value, spec, fonts);
  if (!result?.ok) throw new Error('the edition builds');
  return pagesOf(result.value.document);
}

describe('the pages of the workshop', () => {
  const source = demo();
  const steps: readonly (readonly [string, BookSource, number])[] = [
    ['as opened', source, 0],
    ['a figure one tone longer', changed(source, 0, 1, { figure: '1 2 3 2 1' }), 0],
    ['the same figure for another instrument', changed(source, 0, 1, { figure: '1 2 3 2 1' }), 4],
    ['back to the first state', source, 0],
    ['another title', { ...source, title: 'Large Wheels' }, 0],
    ['another staff height', { ...source, house: { ...source.house, staff: 7 } }, 0],
    ['a chapter moved', { ...source, chapters: [...source.chapters].reverse() }, 0],
    ['no breath marks', { ...source, breath: { print: 'none' } }, 0],
    ['another preface', { ...source, preface: 'Short.' }, 0],
    ['a metre of three', changed(source, 1, 1, { metre: '3/4' }), 0],
  ];
  it('are those of a build, after every change in turn', () => {
    const shop = workshop(fonts);
    for (const [name, state, edition] of steps) {
      expect(pagesOf(shown(shop, state, edition).set.document), name).toEqual(built(state, edition));
    }
  });

  it('are those of a build after any row of changes, some of them set in haste, each come as a message does', () => {
    const figures = ['1 2 3 5', '1 3 5 3 1', '5 4 3 2 1', '1 2', 'b', '', '1 b3 5 8'];
    const change = fc.record({
      chapter: fc.nat(2),
      exercise: fc.nat(3),
      kind: fc.constantFrom('figure', 'title', 'metre', 'order', 'defaults', 'delete', 'swap', 'preface', 'unknown'),
      which: fc.nat(6),
      hasty: fc.boolean(),
    });
    const rows = fc.sample(fc.array(change, { minLength: 5, maxLength: 8 }), { numRuns: 4, seed: 12 });
    for (const row of rows) {
      const shop = workshop(fonts);
      let state: BookSource = source;
      for (const { chapter, exercise, kind, which, hasty } of row) {
        const own = state.chapters[chapter]?.exercises ?? [];
        const list = (exercises: typeof own) => ({
          ...state,
          chapters: state.chapters.map((it, c) => (c === chapter ? { ...it, exercises } : it)),
        });
        if (kind === 'figure') state = changed(state, chapter, exercise, { figure: figures[which] });
        else if (kind === 'title') state = changed(state, chapter, exercise, { title: `Title ${which}` });
        else if (kind === 'metre') state = changed(state, chapter, exercise, { metre: which % 2 ? '3/4' : '4/4' });
        else if (kind === 'order') state = changed(state, chapter, exercise, { order: which % 2 ? 'fifths' : 'chromatic-up' });
        else if (kind === 'defaults') state = { ...state, defaults: { ...state.defaults, keyNames: which % 2 === 0 } };
        else if (kind === 'delete' && own.length > 1) state = list(own.filter((_, e) => e !== exercise));
        else if (kind === 'swap') state = list([...own].reverse());
        else if (kind === 'preface') state = { ...state, preface: `Preface ${which}.` };
        else if (kind === 'unknown') state = changed(state, chapter, exercise, { sparkle: which });
        state = JSON.parse(JSON.stringify(state)) as BookSource;
        const read = shop.read(state);
        if (hasty) shop.build(read, read.editions[0] ?? -1, { hasty: true });
        // Where a figure cannot be read, what is shown is that of the book without the change; another test tells that.
        const fresh = workshop(fonts).read(state);
        if (fresh.outdated.length > 0) continue;
        expect(read.issues).toEqual(fresh.issues);
        const { set } = shown(shop, state, 0);
        expect(pagesOf(set.document)).toEqual(pagesOf(shown(workshop(fonts), state, 0).set.document));
        if (read.issues.length === 0) expect(pagesOf(set.document)).toEqual(built(state, 0));
      }
    }
  });

  it('make only what a change has touched: one line, one exercise engraved, the pages of its chapter', () => {
    const made: string[] = [];
    const shop = workshop(fonts, (key) => made.push(String(key.find((it) => typeof it === 'string' && KINDS.includes(it)))));
    const copy = (state: BookSource) => JSON.parse(JSON.stringify(state)) as BookSource;
    shown(shop, copy(source), 0);
    made.length = 0;
    shown(shop, copy(changed(source, 0, 1, { figure: '1 2 3 2 1' })), 0);
    expect(KINDS.map((kind) => made.filter((it) => it === kind).length)).toEqual([1, 1, 1]);
    made.length = 0;
    shown(shop, copy(source), 0);
    expect(made.filter((it) => KINDS.includes(it))).toEqual([]);
  });

  it('are not built again when nothing has changed', () => {
    const shop = workshop(fonts);
    const read = shop.read(source);
    expect(shop.read(JSON.parse(JSON.stringify(source)))).toBe(read);
    expect(shop.build(read, 0)).toBe(shop.build(read, 0));
  });

  it('keep what did not change: the same objects stand behind unchanged exercises', () => {
    const shop = workshop(fonts);
    const before = shown(shop, source, 0).set.lines;
    const after = shown(shop, changed(source, 0, 1, { figure: '1 2 3 2 1' }), 0).set.lines;
    expect(after.get('three-steps')).not.toBe(before.get('three-steps'));
    expect(after.get('long-home')).toBe(before.get('long-home'));
  });

  it('do not grow without end', () => {
    const shop = workshop(fonts);
    shown(shop, source, 0);
    const sizes: number[] = [];
    for (let i = 0; i < 60; i++) {
      shown(shop, changed(source, 0, 1, { figure: `1 2 3 ${'2 '.repeat(i % 17)}1` }), 0);
      if (i % 20 === 19) sizes.push(shop.cache.size());
    }
    expect(sizes[2]).toBeLessThan((sizes[0] as number) * 1.3);
  });
});

describe('what cannot be read', () => {
  const source = demo();
  it.each([
    ['a figure half written', changed(source, 0, 1, { figure: '1 2 b' }), 'figure-no-degree'],
    ['an empty figure', changed(source, 0, 1, { figure: '' }), 'wrong-field'],
    ['an unknown library figure', changed(source, 0, 1, { figure: { library: 'nothing' } }), 'unknown-figure'],
    ['a rhythm half written', changed(source, 0, 1, { rhythm: 'eig' }), 'rhythm-name'],
    ['a tempo upside down', changed(source, 0, 1, { tempo: { from: 90, to: 60 } }), 'tempo-upside-down'],
  ])('%s: the page shows the last sound form, and the fault is told at its place', (_name, state, code) => {
    const shop = workshop(fonts);
    const before = pagesOf(shown(shop, source, 0).set.document);
    const { read, set } = shown(shop, state, 0);
    expect(pagesOf(set.document)).toEqual(before);
    expect(read.outdated).toEqual([{ chapter: 0, exercise: 1 }]);
    expect(read.issues.find((issue) => issue.code === code)?.path.slice(0, 4)).toEqual(['chapters', 0, 'exercises', 1]);
    expect(read.places.get('step-and-skip')).toEqual({ chapter: 0, exercise: 2 });
  });

  it('never sound: it is left out, and places count on from the source', () => {
    const { read, set } = shown(workshop(fonts), changed(source, 0, 1, { figure: 'x' }), 0);
    expect(set.lines.has('three-steps')).toBe(false);
    expect(read.places.get('step-and-skip')).toEqual({ chapter: 0, exercise: 2 });
  });

  it('a chapter without exercises, and an unknown instrument, are passed over', () => {
    const state = {
      ...source,
      editions: ['no-such-horn', ...source.editions],
      chapters: [{ title: 'Empty', exercises: [] }, ...source.chapters],
    };
    const { read, set } = shown(workshop(fonts), state, 1);
    expect(set.player.instrument.id).toBe('flute');
    expect(read.chapters).toEqual([undefined, 0, 1, 2]);
    expect(read.editions[0]).toBeUndefined();
    expect(read.issues.map((issue) => issue.code)).toEqual(expect.arrayContaining(['unknown-instrument', 'empty-chapter']));
  });

  it.each([
    ['nothing at all', {}],
    ['no chapter', { ...source, chapters: [] }],
    ['no instrument', { ...source, editions: [] }],
    ['chapters that are no list', { ...source, chapters: 3 }],
  ])('%s: no pages, but issues that say why', (_name, state) => {
    const read = workshop(fonts).read(state);
    expect(read.book).toBeUndefined();
    expect(read.issues.length).toBeGreaterThan(0);
  });

  it('an exercise that one player cannot play is told for that player and leaves the others', () => {
    const state = changed(source, 0, 1, { figure: '1 22', misfit: 'report' });
    const { set } = shown(workshop(fonts), state, 0);
    expect(set.lines.has('three-steps')).toBe(false);
    expect(set.issues.find((issue) => issue.code === 'figure-too-wide')?.path.slice(0, 4)).toEqual(['chapters', 0, 'exercises', 1]);
    expect(set.lines.size).toBe(10);
  });
});
