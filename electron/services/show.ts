/** A book as the window asks to see it: pages drawn, one exercise told note by note, and what is wrong. */

import { createHash } from 'node:crypto';
import { assert, bad, good, type Issue, type Result } from '../../core/base/issue.js';
import { type Breather, type LungTime, lungTime, withoutBreath } from '../../core/breath/lung-time.js';
import { type BreathPlan, breathPlan } from '../../core/breath/plan.js';
import { type Beats, beatText, METRONOME, tempoRungs } from '../../core/breath/tempo.js';
import type { ReadBook, SetEdition, Workshop } from '../../core/build/workshop.js';
import { barsOf } from '../../core/engrave/bars.js';
import { drawSystem } from '../../core/engrave/draw/system.js';
import type { Fonts } from '../../core/engrave/metrics.js';
import { shapeScore } from '../../core/engrave/shape.js';
import { musicWords } from '../../core/layout/music/words.js';
import type { Document, Page } from '../../core/layout/page/page.js';
import { drawingSvg, pageSvg } from '../../core/output/picture/svg.js';
import type { Line } from '../../core/player/line.js';
import { toNumber } from '../../core/theory/fraction.js';
import { keyText, keyWords } from '../../core/theory/key.js';
import { tempoBeat } from '../../core/theory/metre.js';
import { chroma, midi } from '../../core/theory/pitch.js';
import { pitchView, wheelSpot } from './lists.js';
import type {
  BreatherAsk,
  BreathingView,
  ExercisePlace,
  ExerciseView,
  NoteView,
  PageEntry,
  ShowAsk,
  Shown,
  StatementView,
} from './views.js';

/** Bars shown of an exercise's opening: enough for two statements of most figures, in the width of an editor. */
const OPENING_BARS = 4;

export const breatherOf = ({ longTone, ...facts }: BreatherAsk): Breather => ({
  ...facts,
  ...(longTone === undefined ? {} : { longTone: { seconds: longTone } }),
});

/** Tempo of a plan: the one asked for, else the exercise's slowest, else a walking pace. */
export function beatsOf(line: Line, bpm: number | undefined): Beats {
  const { tempo, metre } = line.exercise;
  return { beat: tempo?.beat ?? tempoBeat(metre), bpm: bpm ?? tempo?.from ?? 72 };
}

/** The exercise in focus, if this edition has it. */
export function lineInFocus(read: ReadBook, edition: SetEdition, focus: ExercisePlace): { line: Line; id: string } | undefined {
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

export function lungOf(line: Line, breather: BreatherAsk): Result<LungTime | undefined> {
  const { dynamic } = line.exercise;
  return lungTime(breatherOf(breather), line.player.instrument, dynamic ? { dynamic } : {});
}

/** Tempos to try: those of the exercise, else the metronome round its pace. */
export function ladderOf(line: Line): readonly number[] {
  const { tempo } = line.exercise;
  if (!tempo) return METRONOME.filter((n) => n >= 50 && n <= 120 && n % 10 === 0);
  const rungs = tempoRungs(tempo.from, tempo.to, 8);
  return rungs.ok ? rungs.value : [tempo.from];
}

function breathingView(line: Line, ask: ShowAsk, shop: Workshop): BreathingView | undefined {
  const beats = beatsOf(line, ask.bpm);
  const { instrument } = line.player;
  const about = { bpm: beats.bpm, beat: beatText(beats.beat) };
  const none = { ...about, breaths: [], rungs: [] };
  const lung = lungOf(line, ask.breather);
  if (!lung.ok) return { ...none, lungWords: '', lungSeconds: 0, issue: lung.issues[0] };
  const own = lung.value;
  if (!own) return { ...none, lungWords: '', lungSeconds: 0, issue: withoutBreath(instrument) };
  const plan = (bpm: number): Result<BreathPlan> =>
    shop.cache.cached(['plan', shop.cache.identity(line), own, ask.manner, bpm, beats.beat], () =>
      breathPlan(line, { beat: beats.beat, bpm }, own, { manner: ask.manner }),
    );
  const shown = plan(beats.bpm);
  const rungs = ladderOf(line).map((bpm) => {
    const at = plan(bpm);
    return { bpm, count: at.ok ? at.value.breaths.length : undefined };
  });
  const breaths = shown.ok
    ? shown.value.breaths.map(({ afterEvent, onset, reason, seconds }) => ({
        afterEvent,
        at: toNumber(onset),
        reason,
        seconds,
        forced: reason === 'inside-beam' || reason === 'inside-slur',
      }))
    : [];
  return { ...about, breaths, rungs, lungWords: own.words, lungSeconds: own.seconds, issue: shown.ok ? undefined : shown.issues[0] };
}

function exerciseView(read: ReadBook, line: Line, id: string, ask: ShowAsk, shop: Workshop, fonts: Fonts): ExerciseView {
  const number = (read.book?.chapters.flatMap((chapter) => chapter.exercises).findIndex((it) => it.id === id) ?? 0) + 1;
  const { exercise, player } = line;
  const beats = beatsOf(line, ask.bpm);
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
    breathing: breathingView(line, ask, shop),
    tempo: exercise.tempo && { from: exercise.tempo.from, to: exercise.tempo.to, beat: beatText(exercise.tempo.beat) },
    seconds: (toNumber(line.duration) / toNumber(beats.beat)) * (60 / beats.bpm),
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
function firstExercises(read: ReadBook): ReadBook {
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
  return { ...read, bodyOnly: true, book: { ...read.book, extras, chapters: [{ ...chapter, exercises }] } };
}

/** Shows one edition. Issues of a book that cannot be shown come in the answer, with no pages. */
export function show(ask: ShowAsk, shop: Workshop, fonts: Fonts): Result<Shown> {
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
    held: read.held.map(({ chapter, exercise }) => `${chapter}.${exercise}`),
    exercise: undefined,
    instrument: '',
    partial,
  };
  const index = read.editions[ask.edition] ?? read.editions.find((it) => it !== undefined);
  if (!read.book || index === undefined) return good(empty);
  const set = shop.set(read, index, ask.hasty);
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
    issues: [...read.issues, ...set.value.issues.filter((issue) => !read.issues.some((it) => sameIssue(it, issue)))],
    width: document.width,
    height: document.height,
    pages,
    drawn,
    firstPage,
    chapterPage,
    focusPages,
    exercise: inFocus && ask.tell ? exerciseView(read, inFocus.line, inFocus.id, ask, shop, fonts) : undefined,
    instrument: player.instrument.name,
  });
}

const sameIssue = (a: Issue, b: Issue): boolean => a.code === b.code && a.message === b.message && a.path.join() === b.path.join();

/** The breaths that are taken when the line is played. */
export function planFor(line: Line, bpm: number | undefined, breather: BreatherAsk, manner: 'in-time' | 'added-beat'): Result<BreathPlan> {
  const lung = lungOf(line, breather);
  if (!lung.ok) return lung;
  if (!lung.value) return bad(withoutBreath(line.player.instrument));
  return breathPlan(line, beatsOf(line, bpm), lung.value, { manner });
}
