/** Small editions to prove, and ways to damage them. */

import type { Book } from '../../core/book/book.js';
import { readBook } from '../../core/book/read.js';
import { buildEdition } from '../../core/build/edition.js';
import type { Drawing, Mark, Role } from '../../core/engrave/drawing.js';
import { drawingOf, inkFor } from '../../core/engrave/ink.js';
import type { Document, Page, PageItem } from '../../core/layout/page/page.js';
import { type Proof, proveEdition } from '../../core/proof/proof.js';
import type { ProvedEdition } from '../../core/proof/proved-edition.js';
import { testFonts } from '../fonts.js';

export type Built = { readonly book: Book; readonly edition: ProvedEdition };

type Fields = Readonly<Record<string, unknown>>;

/** A book of these exercises for one instrument, built. Fields of the exercise and the book as in a book file. */
export function built(exercises: Fields | readonly Fields[], instrument: Fields | string = 'flute', more: Fields = {}): Built {
  const text = JSON.stringify({
    format: 'twelvefold',
    version: 1,
    title: 'A Book to Prove',
    date: '2026-03-01',
    editions: [instrument],
    chapters: [{ title: 'Only One', exercises: Array.isArray(exercises) ? exercises : [exercises] }],
    ...more,
  });
  const book = readBook(text);
  if (!book.ok) throw new Error(book.issues.map((i) => i.message).join('\n'));
  const spec = book.value.editions[0];
  if (!spec) throw new Error('no edition');
  const edition = buildEdition(book.value, spec, testFonts());
  if (!edition.ok) throw new Error(edition.issues.map((i) => i.message).join('\n'));
  return { book: book.value, edition: edition.value };
}

export const prove = ({ book, edition }: Built): Proof => proveEdition(edition, book, testFonts());

/** Numbers of the rules that fail, each once. */
export const failing = (b: Built): number[] => [...new Set(prove(b).faults.map((f) => f.rule))];

export function withDocument(b: Built, change: (document: Document) => Document): Built {
  return { ...b, edition: { ...b.edition, document: change(b.edition.document) } };
}

/** Every page item run through a change that may leave it out or multiply it. */
export function withItems(b: Built, change: (item: PageItem, page: Page) => PageItem | readonly PageItem[]): Built {
  return withDocument(b, (document) => ({
    ...document,
    pages: document.pages.map((page) => ({ ...page, items: page.items.flatMap((item) => change(item, page)) })),
  }));
}

export type Damage = (marks: readonly Mark[], system: number) => readonly Mark[];

/** The same edition with the marks of its systems of music changed. */
export function damaged(b: Built, damage: Damage): Built {
  return withItems(b, (item) => {
    if (item.kind !== 'drawing' || item.exercise === undefined) return item;
    const { draw, system = 0 } = item;
    return { ...item, draw: () => redrawn(draw(), (marks) => damage(marks, system)) };
  });
}

function redrawn(drawing: Drawing, change: (marks: readonly Mark[]) => readonly Mark[]): Drawing {
  const ink = inkFor(drawing.width, testFonts());
  for (const mark of change(drawing.marks)) ink.push(mark);
  return drawingOf(ink, drawing.width);
}

/** The mark moved. */
export function moved<M extends Mark>(mark: M, dx: number, dy: number): M {
  const { x0, y0, x1, y1 } = mark.box;
  const shifted = { ...mark, box: { x0: x0 + dx, y0: y0 + dy, x1: x1 + dx, y1: y1 + dy } };
  if (mark.kind === 'glyph' || mark.kind === 'text') return { ...shifted, x: mark.x + dx, y: mark.y + dy };
  if (mark.kind === 'lens') {
    const at = ([x, y]: readonly [number, number]) => [x + dx, y + dy] as const;
    const [a, b] = [mark.outer, mark.inner].map(([first, second]) => [at(first), at(second)] as const);
    return { ...shifted, from: at(mark.from), to: at(mark.to), outer: a, inner: b };
  }
  if (mark.kind === 'polygon') return { ...shifted, points: mark.points.map(([x, y]) => [x + dx, y + dy] as const) };
  return shifted;
}

/** A rectangle with other edges. */
export function edged<M extends Mark>(mark: M, edges: Partial<M['box']>): M {
  return { ...mark, box: { ...mark.box, ...edges } };
}

/** Changes the nth mark of a role in the first system (counted from 0, from left to right); undefined takes it away. */
export function nth(role: Role, n: number, change: (mark: Mark) => Mark | undefined): Damage {
  return (marks, system) => {
    if (system !== 0) return marks;
    const wanted = marks.filter((m) => m.role === role).sort((a, b) => a.box.x0 - b.box.x0)[n];
    if (!wanted) throw new Error(`no ${role} ${n}`);
    return marks.flatMap((mark) => (mark === wanted ? (change(mark) ?? []) : mark));
  };
}

/** Changes every mark of the first system that a test picks. */
export function each(pick: (mark: Mark) => boolean, change: (mark: Mark) => Mark | undefined): Damage {
  return (marks, system) => (system === 0 ? marks.flatMap((mark) => (pick(mark) ? (change(mark) ?? []) : mark)) : marks);
}
