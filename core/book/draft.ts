/**
 * A book as an editor holds it, faults and all. What is wrong is told at its place in the source and taken out, so that the
 * rest can be shown; an exercise that cannot be read stands in its last sound form.
 */
import { bad, good, type Issue, isError, type Result } from '../base/issue.js';
import { shareStructure } from '../base/shared-structure.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Book } from './book.js';
import type { JsonObject } from './json.js';
import { type KnownExercises, resolveBook } from './resolve.js';
import { type BookSource, checkShape, type ExerciseSource } from './schema.js';

/** Where an exercise stands in the source, counted from 0. */
export type ExercisePlace = { readonly chapter: number; readonly exercise: number };

export type Draft = {
  /** Undefined when nothing of the book can be shown. */
  readonly book: Book | undefined;
  readonly issues: readonly Issue[];
  /** Places in the source that are shown in their last sound form, or not at all. */
  readonly outdated: readonly ExercisePlace[];
  /** Place in the source of each exercise of the book, by its id. */
  readonly places: ReadonlyMap<string, ExercisePlace>;
  /** Index in the book of each chapter of the source; undefined for one that is not shown. */
  readonly chapters: readonly (number | undefined)[];
  /** The same for the editions. */
  readonly editions: readonly (number | undefined)[];
};

/** Reads one state of a source after another; the same state gives the same draft. */
export type DraftReader = (source: unknown) => Draft;

/** Rounds of taking faulty parts out before nothing is shown: faults of the shape, of the meaning, and what they hid. */
const ROUNDS = 4;

/** So many exercises are remembered; an editor's book has fewer. */
const MOST = 4000;

/** Stands for one whose shape is known to be sound. */
const LEAST_EXERCISE: ExerciseSource = { figure: '1' };

const samePlace = (a: ExercisePlace, b: ExercisePlace): boolean => a.chapter === b.chapter && a.exercise === b.exercise;

const isIn = (places: readonly ExercisePlace[], place: ExercisePlace): boolean => places.some((it) => samePlace(it, place));

function placeOf(path: Issue['path']): ExercisePlace | undefined {
  const [chapters, chapter, exercises, exercise] = path;
  return chapters === 'chapters' && exercises === 'exercises' && typeof chapter === 'number' && typeof exercise === 'number'
    ? { chapter, exercise }
    : undefined;
}

const fieldOf = (source: unknown, field: string): unknown =>
  typeof source === 'object' && source !== null ? Reflect.get(source, field) : undefined;

function listIn(source: unknown, field: string): readonly unknown[] {
  const list = fieldOf(source, field);
  return Array.isArray(list) ? list : [];
}

const exercisesAt = (source: unknown, chapter: number): readonly unknown[] => listIn(listIn(source, 'chapters')[chapter], 'exercises');

/** The id that an exercise states, or has by its place. */
function idAt(source: unknown, { chapter, exercise }: ExercisePlace): string {
  const id = fieldOf(exercisesAt(source, chapter)[exercise], 'id');
  return typeof id === 'string' ? id : `${chapter + 1}.${exercise + 1}`;
}

/** Which chapters and editions of a source are shown, and which exercises are not as they stand there. */
type Shown = { readonly chapters: readonly number[]; readonly editions: readonly number[]; readonly outdated: readonly ExercisePlace[] };

type Sound = Map<string, ExerciseSource>;

const indices = (list: readonly unknown[]): number[] => list.map((_, i) => i);

/** Indices of the exercises of a chapter that are shown: all but the outdated ones that were never sound. */
const shownIn = (source: unknown, chapter: number, outdated: readonly ExercisePlace[], sound: Sound): number[] =>
  indices(exercisesAt(source, chapter)).filter((exercise) => {
    const place = { chapter, exercise };
    return !isIn(outdated, place) || sound.has(idAt(source, place));
  });

/** The source with its faulty parts in their last sound form, or without them. */
function rebuilt(source: unknown, { chapters, editions, outdated }: Shown, sound: Sound): unknown {
  const all = listIn(source, 'chapters');
  const named = listIn(source, 'editions');
  return {
    ...(source as object),
    editions: editions.map((i) => named[i]),
    chapters: chapters.map((chapter) => ({
      ...(all[chapter] as object),
      exercises: shownIn(source, chapter, outdated, sound).map((exercise) => {
        const place = { chapter, exercise };
        const it = isIn(outdated, place) ? sound.get(idAt(source, place)) : exercisesAt(source, chapter)[exercise];
        // The place may have moved; the id is stated so that it stays the same.
        return { ...(it as object), id: idAt(source, place) };
      }),
    })),
  };
}

/** What of a source is shown when these faults, told of the source without what is hidden already, are taken out too. */
function without(faults: readonly Issue[], source: unknown, before: Shown, sound: Sound): Shown {
  const outdated = [...before.outdated];
  for (const { path } of faults) {
    const place = placeOf(path);
    if (!place) continue;
    const chapter = before.chapters[place.chapter] ?? 0;
    const original = { chapter, exercise: shownIn(source, chapter, outdated, sound)[place.exercise] ?? 0 };
    // Found wrong even in its last sound form (by a default that changed): then it is left out.
    if (isIn(outdated, original)) sound.delete(idAt(source, original));
    else outdated.push(original);
  }
  const faulty = new Set(faults.flatMap(({ path: [list, index] }) => (list === 'editions' ? [index] : [])));
  const editions = before.editions.filter((_, i) => !faulty.has(i));
  const chapters = indices(listIn(source, 'chapters')).filter((c) => shownIn(source, c, outdated, sound).length > 0);
  return { chapters, editions, outdated };
}

/** Place in a list of what is shown of each of so many. */
const shownAt = (shown: readonly number[], all: readonly unknown[]): (number | undefined)[] =>
  all.map((_, i) => (shown.includes(i) ? shown.indexOf(i) : undefined));

/** The check of the shape: exercises that passed it before, the very same objects, need not pass it again. */
function shapeCheck(): (source: unknown) => Result<BookSource> {
  const passed = new WeakSet<object>();
  const hasPassed = (it: unknown): boolean => typeof it === 'object' && it !== null && passed.has(it);
  return (source) => {
    const chapters = listIn(source, 'chapters').map((chapter) => {
      const list = listIn(chapter, 'exercises');
      if (!list.some(hasPassed)) return chapter;
      return { ...(chapter as object), exercises: list.map((it) => (hasPassed(it) ? LEAST_EXERCISE : it)) };
    });
    const light = checkShape((chapters.length > 0 ? { ...(source as object), chapters } : source) as JsonObject);
    // A fault must be told at its place in the whole.
    if (!light.ok || light.issues.length > 0) return checkShape(source as JsonObject);
    const whole = source as BookSource;
    for (const exercise of whole.chapters.flatMap((chapter) => chapter.exercises)) passed.add(exercise);
    return good(whole);
  };
}

/** The meaning of a source: one object for one exercise, so that what is remembered of it is found again. */
function meaning(): (source: BookSource) => Result<Book> {
  const known: KnownExercises = new WeakMap();
  const books = new WeakMap<BookSource, Result<Book>>();
  const byContent = new Map<string, Exercise>();
  const byObject = new WeakMap<Exercise, Exercise>();
  const theOne = (exercise: Exercise): Exercise => {
    const seen = byObject.get(exercise);
    if (seen) return seen;
    const content = JSON.stringify(exercise);
    if (byContent.size > MOST) byContent.clear();
    const one = byContent.get(content) ?? exercise;
    byContent.set(content, one);
    byObject.set(exercise, one);
    return one;
  };
  return (source) => {
    const found = books.get(source);
    if (found) return found;
    const result = resolveBook(source, known);
    const chapters = result.ok ? result.value.chapters.map((it) => ({ ...it, exercises: it.exercises.map(theOne) })) : [];
    const book = result.ok ? good({ ...result.value, chapters }, result.issues) : result;
    books.set(source, book);
    return book;
  };
}

export function draftReader(): DraftReader {
  /** Last sound source of each exercise, by id. */
  const sound: Sound = new Map();
  const shapeOf = shapeCheck();
  const bookOf = meaning();
  /** What was read the last time, round by round: what is the same now is the same object. */
  const rounds: unknown[] = [];
  let last: { readonly source: unknown; readonly draft: Draft } | undefined;

  function complete(source: unknown, read: BookSource, book: Book, shown: Shown, issues: readonly Issue[]): Draft {
    const { chapters, editions, outdated } = shown;
    const places = new Map<string, ExercisePlace>();
    read.chapters.forEach((own, c) => {
      const chapter = chapters[c] ?? 0;
      const indices = shownIn(source, chapter, outdated, sound);
      own.exercises.forEach((it, e) => {
        const place = { chapter, exercise: indices[e] ?? 0 };
        places.set(it.id ?? `${c + 1}.${e + 1}`, place);
        if (!isIn(outdated, place) && sound.size < MOST) sound.set(idAt(source, place), it);
      });
    });
    const all = { chapters: shownAt(chapters, listIn(source, 'chapters')), editions: shownAt(editions, listIn(source, 'editions')) };
    return { book, issues, outdated, places, ...all };
  }

  function readAnew(source: unknown): Draft {
    let shown: Shown = { chapters: indices(listIn(source, 'chapters')), editions: indices(listIn(source, 'editions')), outdated: [] };
    let told: readonly Issue[] | undefined;
    let now = source;
    for (let round = 0; round < ROUNDS; round++) {
      now = shareStructure(rounds[round], now);
      rounds[round] = now;
      const shape = shapeOf(now);
      const book = shape.ok ? bookOf(shape.value) : bad<Book>(...shape.issues);
      const found = [...(shape.ok ? shape.issues : []), ...book.issues];
      told ??= found;
      if (book.ok && shape.ok) return complete(source, shape.value, book.value, shown, told);
      // Paths of later rounds lead into the book without its faulty parts.
      shown = without(found.filter(isError), source, shown, sound);
      if (shown.chapters.length === 0 || shown.editions.length === 0) break;
      now = rebuilt(source, shown, sound);
    }
    return { book: undefined, issues: told ?? [], outdated: shown.outdated, places: new Map(), chapters: [], editions: [] };
  }

  return (given) => {
    const source = shareStructure(last?.source, given);
    if (!last || source !== last.source) last = { source, draft: readAnew(source) };
    return last.draft;
  };
}
