/** A book as the window asks to see it: pages drawn, the exercise in focus, and what is wrong. */
import { createHash } from 'node:crypto';
import { good, type Issue, type Result } from '../../../core/base/issue.js';
import { at } from '../../../core/base/list.js';
import type { Draft } from '../../../core/book/draft.js';
import type { Workshop } from '../../../core/build/workshop.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import type { Document, Page } from '../../../core/layout/page/page.js';
import { pageSvg } from '../../../core/output/picture/svg.js';
import type { PageEntry, Shown } from '../contract/answers/pages.js';
import type { Ask } from '../contract/questions.js';
import { exerciseView, lineInFocus } from './exercise-view.js';

/** Fingerprint of a page by what stands on it: equal pages have equal stamps. */
const stampOf = (svg: string): string => createHash('sha1').update(svg).digest('base64url');

type Picture = { readonly width: number; readonly height: number; readonly svg: string; readonly stamp: string };

/** Pages that stayed what they were are not drawn again. */
const pictures = new WeakMap<Page, Picture>();

function pictureOf(page: Page, { width, height }: Document, fonts: Fonts): Picture {
  const drawn = pictures.get(page);
  if (drawn && drawn.width === width && drawn.height === height) return drawn;
  const svg = pageSvg(page, { width, height }, fonts, { title: `Page ${page.label}`, glyphs: 'inline' });
  const picture = { width, height, svg, stamp: stampOf(svg) };
  pictures.set(page, picture);
  return picture;
}

/** More notes than stand on the first page of a chapter, whatever the staff and the paper. */
const FIRST_NOTES = 300;

/** The first exercises of the book and no matter before or behind them: what can be set while one blinks. */
function firstExercises(read: Draft): Draft {
  const chapter = read.book?.chapters[0];
  if (!read.book || !chapter) return read;
  const extras = Object.fromEntries(Object.keys(read.book.extras).map((name) => [name, false])) as typeof read.book.extras;
  let notes = 0;
  const exercises = chapter.exercises.filter(({ figure }) => {
    const needed = notes < FIRST_NOTES;
    // Every key both ways.
    notes += 24 * figure.tones.length;
    return needed;
  });
  return { ...read, book: { ...read.book, extras, chapters: [{ ...chapter, exercises }] } };
}

const isThere = (page: number, pages: readonly PageEntry[]): boolean => page >= 0 && page < pages.length;

/** Pages that are wanted and not what the window holds already are sent drawn. */
function drawnPages(document: Document, wanted: readonly number[], have: Ask<'show'>['have'], fonts: Fonts): Shown['drawn'] {
  return wanted.map((page) => {
    const { svg, stamp } = pictureOf(at(document.pages, page), document, fonts);
    return { page, stamp, svg: have[page] === stamp ? undefined : svg };
  });
}

/** First page of each exercise, by its place in the source. */
function firstPages(pages: readonly PageEntry[], { places }: Draft): Record<string, number> {
  const firstOf = new Map<string, number>();
  for (const [i, { exercises }] of pages.entries()) for (const id of exercises) if (!firstOf.has(id)) firstOf.set(id, i);
  return Object.fromEntries(
    [...places].flatMap(([id, { chapter, exercise }]) => {
      const page = firstOf.get(id);
      return page === undefined ? [] : [[`${chapter}.${exercise}`, page]];
    }),
  );
}

/** First page of each chapter of the source; -1 for one that is not shown. */
function chapterPages({ pages }: Document, { book, chapters }: Draft): number[] {
  const anchors = pages.map((page) => page.items.flatMap((it) => (it.kind === 'anchor' ? [it.name] : [])));
  return chapters.map((c) => {
    const id = c === undefined ? undefined : book?.chapters[c]?.id;
    return id === undefined ? -1 : anchors.findIndex((names) => names.includes(`chapter ${id}`));
  });
}

const entryOf = ({ label, kind, side, items }: Page): PageEntry => {
  const exercises = new Set(items.flatMap((it) => (it.kind === 'drawing' && it.exercise ? [it.exercise] : [])));
  return { label, kind, side, exercises: [...exercises] };
};

/** Shows one edition. Issues of a book that cannot be shown come in the answer, with no pages. */
export function pagesView(ask: Ask<'show'>, shop: Workshop, fonts: Fonts): Result<Shown> {
  const whole = shop.read(ask.source);
  const partial = ask.first && ask.focus?.exercise === 0 && whole.chapters[ask.focus.chapter] === 0;
  const read = partial ? firstExercises(whole) : whole;
  const empty: Shown = {
    issues: read.issues,
    width: 0,
    height: 0,
    pages: [],
    drawn: [],
    firstPage: {},
    chapterPage: [],
    focusPages: [],
    outdated: read.outdated.map(({ chapter, exercise }) => `${chapter}.${exercise}`),
    exercise: undefined,
    instrument: '',
    partial,
  };
  const index = read.editions[ask.edition] ?? read.editions.find((it) => it !== undefined);
  if (!read.book || index === undefined) return good(empty);
  const set = shop.build(read, index, { hasty: ask.hasty, bodyOnly: partial });
  if (!set.ok) return good({ ...empty, issues: [...read.issues, ...set.issues] });
  const { document, player, spec } = set.value;
  const pages = document.pages.map(entryOf);
  const inFocus = ask.focus && lineInFocus(read, set.value, ask.focus);
  const focusPages = inFocus ? pages.flatMap((page, i) => (page.exercises.includes(inFocus.id) ? [i] : [])) : [];
  const wanted = [...new Set([...(ask.withFocus ? focusPages : []), ...ask.pages])].filter((page) => isThere(page, pages));
  return good({
    ...empty,
    issues: [...read.issues, ...set.issues.filter((issue) => !read.issues.some((it) => sameIssue(it, issue)))],
    width: document.width,
    height: document.height,
    pages,
    drawn: drawnPages(document, wanted, ask.have, fonts),
    firstPage: firstPages(pages, read),
    chapterPage: chapterPages(document, read),
    focusPages,
    exercise: inFocus && ask.tell ? exerciseView(read, spec, inFocus, ask, shop, fonts) : undefined,
    instrument: player.instrument.name,
  });
}

const sameIssue = (a: Issue, b: Issue): boolean => a.code === b.code && a.message === b.message && a.path.join() === b.path.join();
