/** A book as the window asks to see it: pages drawn, one exercise told note by note, and what is wrong. */

import { createHash } from 'node:crypto';
import { assert, good, type Issue, type Result } from '../../../core/base/issue.js';
import type { EditionSpec } from '../../../core/book/book.js';
import type { Draft } from '../../../core/book/draft.js';
import type { BuiltEdition } from '../../../core/build/edition.js';
import type { Workshop } from '../../../core/build/workshop.js';
import { barsOf } from '../../../core/engrave/bars.js';
import { drawSystem } from '../../../core/engrave/draw/system.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import { shapeScore } from '../../../core/engrave/shape.js';
import { beatText, secondsPerWhole, tempoOf } from '../../../core/exercise/tempo.js';
import { musicWords } from '../../../core/layout/music/words.js';
import type { Document, Page } from '../../../core/layout/page/page.js';
import { drawingSvg, pageSvg } from '../../../core/output/picture/svg.js';
import type { Line } from '../../../core/player/line.js';
import { toNumber } from '../../../core/theory/fraction.js';
import { keyText, keyWords } from '../../../core/theory/key.js';
import { chroma, midi } from '../../../core/theory/pitch.js';
import type { ExerciseView, NoteView, StatementView } from '../contract/answers/exercise.js';
import type { PageEntry, Shown } from '../contract/answers/pages.js';
import type { ExercisePosition } from '../contract/fields.js';
import type { Ask } from '../contract/questions.js';
import { breathingView, settingsFor } from './breath-view.js';
import { pitchView, wheelSpot } from './lists.js';

/** Bars shown of an exercise's opening: enough for two statements of most figures, in the width of an editor. */
const OPENING_BARS = 4;

/** The exercise in focus, if this edition has it. */
export function lineInFocus(read: Draft, edition: BuiltEdition, focus: ExercisePosition): { line: Line; id: string } | undefined {
  const id = [...read.places].find(([, place]) => place.chapter === focus.chapter && place.exercise === focus.exercise)?.[0];
  const line = id === undefined ? undefined : edition.lines.get(id);
  return line && id !== undefined ? { line, id } : undefined;
}

function noteViews(line: Line): NoteView[] {
  return line.events.map((event) => {
    const common = { index: event.index, statement: event.statement, onset: toNumber(event.onset), duration: toNumber(event.duration) };
    if (event.kind === 'rest') return { ...common, degree: 'r', written: '', sounding: '', key: undefined };
    return {
      ...common,
      degree: event.degree,
      written: pitchView(event.written).shown,
      sounding: pitchView(event.sounding).shown,
      key: midi(event.written),
    };
  });
}

function statementViews(line: Line): StatementView[] {
  return line.statements.map((s) => ({
    index: s.index,
    key: keyText(s.writtenKey),
    keyWords: keyWords(s.writtenKey),
    sounding: keyText(s.soundingKey),
    spot: wheelSpot(chroma(s.soundingKey.tonic)),
    direction: s.direction,
    pass: s.pass,
    place: s.keyIndex,
    set: s.set,
    onset: toNumber(s.onset),
    turned: s.turned,
  }));
}

function exerciseView(
  read: Draft,
  spec: EditionSpec,
  line: Line,
  id: string,
  ask: Ask<'show'>,
  shop: Workshop,
  fonts: Fonts,
): ExerciseView {
  const number = (read.book?.chapters.flatMap((chapter) => chapter.exercises).findIndex((it) => it.id === id) ?? 0) + 1;
  const { exercise, player } = line;
  const beats = tempoOf(line.exercise, ask.bpm);
  const opening = shop.cache.cached(['opening', shop.cache.identity(line)], () => {
    const shape = shapeScore(line, barsOf(line), fonts);
    const drawing = drawSystem(shape, { from: 0, to: Math.min(OPENING_BARS, shape.bars.length), width: undefined });
    return drawingSvg(drawing, fonts, { title: musicWords(`${number}`, line), scale: 5.4, glyphs: 'inline' });
  });
  return {
    id,
    number,
    title: exercise.title,
    opening,
    words: musicWords(`${number}`, line),
    notes: noteViews(line),
    statements: statementViews(line),
    turnaround: line.turnaround,
    duration: toNumber(line.duration),
    leftOut: line.leftOut.map(keyText),
    low: pitchView(player.compass.low),
    high: pitchView(player.compass.high),
    breathing: breathingView(line, beats, settingsFor(spec, ask), shop),
    tempo: exercise.tempo && { from: exercise.tempo.from, to: exercise.tempo.to, beat: beatText(exercise.tempo.beat) },
    seconds: toNumber(line.duration) * secondsPerWhole(beats),
  };
}

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

/** Shows one edition. Issues of a book that cannot be shown come in the answer, with no pages. */
export function show(ask: Ask<'show'>, shop: Workshop, fonts: Fonts): Result<Shown> {
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
    held: read.outdated.map(({ chapter, exercise }) => `${chapter}.${exercise}`),
    exercise: undefined,
    instrument: '',
    partial,
  };
  const index = read.editions[ask.edition] ?? read.editions.find((it) => it !== undefined);
  if (!read.book || index === undefined) return good(empty);
  const set = shop.build(read, index, { hasty: ask.hasty, bodyOnly: partial });
  if (!set.ok) return good({ ...empty, issues: [...read.issues, ...set.issues] });
  const { document, player } = set.value;
  const idsOn = document.pages.map((page) => [
    ...new Set(page.items.flatMap((it) => (it.kind === 'drawing' && it.exercise ? [it.exercise] : []))),
  ]);
  const pages = document.pages.map(({ label, kind, side }, i): PageEntry => ({ label, kind, side, exercises: idsOn[i] as string[] }));
  const inFocus = ask.focus && lineInFocus(read, set.value, ask.focus);
  const focusPages = inFocus ? pages.flatMap((page, i) => (page.exercises.includes(inFocus.id) ? [i] : [])) : [];
  const wanted = [...new Set([...(ask.withFocus ? focusPages : []), ...ask.pages])].filter((page) => page >= 0 && page < pages.length);
  const drawn = wanted.map((page) => {
    const found = document.pages[page];
    assert(found, 'a wanted page is there');
    const { svg, stamp } = pictureOf(found, document, fonts);
    return { page, stamp, svg: ask.have[page] === stamp ? undefined : svg };
  });
  const firstOf = new Map<string, number>();
  for (const [i, { exercises }] of pages.entries()) for (const id of exercises) if (!firstOf.has(id)) firstOf.set(id, i);
  const firstPage: Record<string, number> = {};
  for (const [id, place] of read.places) {
    const page = firstOf.get(id);
    if (page !== undefined) firstPage[`${place.chapter}.${place.exercise}`] = page;
  }
  const anchors = document.pages.map((page) => page.items.flatMap((it) => (it.kind === 'anchor' ? [it.name] : [])));
  const chapterPage = read.chapters.map((c) => {
    const id = c === undefined ? undefined : read.book?.chapters[c]?.id;
    return id === undefined ? -1 : anchors.findIndex((names) => names.includes(`chapter ${id}`));
  });
  return good({
    ...empty,
    issues: [...read.issues, ...set.issues.filter((issue) => !read.issues.some((it) => sameIssue(it, issue)))],
    width: document.width,
    height: document.height,
    pages,
    drawn,
    firstPage,
    chapterPage,
    focusPages,
    exercise: inFocus && ask.tell ? exerciseView(read, set.value.spec, inFocus.line, inFocus.id, ask, shop, fonts) : undefined,
    instrument: player.instrument.name,
  });
}

const sameIssue = (a: Issue, b: Issue): boolean => a.code === b.code && a.message === b.message && a.path.join() === b.path.join();
