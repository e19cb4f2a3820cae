/**
 * The pipeline for an editor: the same pages as a build gives, but what did not change since the last time is kept, and
 * an exercise that cannot be read just now stands in its last sound form. A cache by content and nothing else.
 */

import { type Cache, type KeyPart, openCache } from '../base/cache.js';
import { bad, good, type Issue, isError, type Result, under } from '../base/issue.js';
import { shareStructure } from '../base/shared-structure.js';
import type { Book, EditionSpec } from '../book/book.js';
import type { JsonObject } from '../book/json.js';
import { type KnownExercises, resolveBook } from '../book/resolve.js';
import { type BookSource, checkShape, type ExerciseSource } from '../book/schema.js';
import { breatheExercise } from '../breath/breathe.js';
import { lungTime } from '../breath/lung-time.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Exercise } from '../exercise/exercise.js';
import type { EditionBreathing } from '../layout/edition.js';
import { editionDocument } from '../layout/edition-pages.js';
import type { MatterPage } from '../layout/page/geometry.js';
import type { Document, Page } from '../layout/page/page.js';
import { pageIssues } from '../layout/page/page-issues.js';
import { playerOf } from '../player/compass.js';
import type { Line } from '../player/line.js';
import type { Player } from '../player/player.js';
import { realise } from '../player/realise.js';

export type Place = { readonly chapter: number; readonly exercise: number };

export type ReadBook = {
  /** Undefined when nothing of the book can be shown. */
  readonly book: Book | undefined;
  readonly issues: readonly Issue[];
  /** Places in the source that are shown in their last sound form, or not at all. */
  readonly held: readonly Place[];
  /** Place in the source of each exercise of the book, by its id. */
  readonly places: ReadonlyMap<string, Place>;
  /** Index in the book of each chapter of the source; undefined for one that is not shown. */
  readonly chapters: readonly (number | undefined)[];
  /** The same for the editions. */
  readonly editions: readonly (number | undefined)[];
  /** Set without the pages before its chapters. */
  readonly bodyOnly?: boolean;
};

export type SetEdition = {
  readonly spec: EditionSpec;
  readonly player: Player;
  readonly document: Document;
  /** By exercise id; an exercise that this player cannot play has none. */
  readonly lines: ReadonlyMap<string, Line>;
  readonly breathing: EditionBreathing | undefined;
  readonly issues: readonly Issue[];
};

export type Workshop = {
  /** Reads a book as an editor holds it, faults and all. */
  read(source: unknown): ReadBook;
  /**
   * Sets one edition of a book that was read; its issues have their place in the source. `hasty`: appendices may stand as
   * they were; the next setting without it puts them right.
   */
  set(read: ReadBook, edition: number, hasty?: boolean): Result<SetEdition>;
  line(exercise: Exercise, player: Player): Result<Line>;
  readonly cache: Cache;
};

const samePlace = (a: Place, b: Place): boolean => a.chapter === b.chapter && a.exercise === b.exercise;

function exercisePlace(path: Issue['path']): Place | undefined {
  const [chapters, c, exercises, e] = path;
  return chapters === 'chapters' && exercises === 'exercises' && typeof c === 'number' && typeof e === 'number'
    ? { chapter: c, exercise: e }
    : undefined;
}

/** The id that an exercise has by its place when it states none. */
const idOf = (exercise: ExerciseSource, { chapter, exercise: e }: Place): string => exercise.id ?? `${chapter + 1}.${e + 1}`;

/** Rounds of taking faulty parts out before nothing is shown: faults of the shape, of the meaning, and what they hid. */
const ROUNDS = 4;

/** Stands for one whose shape is known to be sound. */
const LEAST_EXERCISE: ExerciseSource = { figure: '1' };

/** `made` is told of everything that had to be made anew, by its key. */
export function workshop(fonts: Fonts, made?: (key: readonly KeyPart[]) => void): Workshop {
  const cache = openCache(undefined, made);
  const { cached, identity } = cache;
  /** Last sound source of each exercise, by id. */
  const sound = new Map<string, ExerciseSource>();
  const exercises = new Map<string, Exercise>();
  const players = new Map<string, Player>();
  const lastBack = new Map<string, readonly MatterPage[]>();

  /** One object for one content, so that what hangs on it is found again. */
  function one<T>(map: Map<string, T>, value: T): T {
    const id = JSON.stringify(value);
    const found = map.get(id);
    if (found !== undefined) return found;
    if (map.size > 4000) map.clear();
    map.set(id, value);
    return value;
  }

  const known: KnownExercises = new WeakMap();
  const interned = new WeakMap<Exercise, Exercise>();
  /** Exercises whose shape was found sound. */
  const shapely = new WeakSet<object>();
  /** What was read the last time, round by round: what is the same now is the same object. */
  const lastRounds: unknown[] = [];
  let last: { readonly source: unknown; readonly read: ReadBook } | undefined;
  /** Editions set of a reading; one that was set in haste is kept apart. */
  const lastSets = new WeakMap<ReadBook, Map<string, Result<SetEdition>>>();

  const isShapely = (it: unknown): boolean => typeof it === 'object' && it !== null && shapely.has(it);

  function theOne(exercise: Exercise): Exercise {
    const found = interned.get(exercise) ?? one(exercises, exercise);
    interned.set(exercise, found);
    return found;
  }

  function resolve(source: BookSource): Result<Book> {
    return cached(['book', identity(source)], () => {
      const result = resolveBook(source, known);
      if (!result.ok) return result;
      const chapters = result.value.chapters.map((chapter) => ({ ...chapter, exercises: chapter.exercises.map(theOne) }));
      return good({ ...result.value, chapters }, result.issues);
    });
  }

  /** The check of the whole; exercises that passed it before need not pass it again. */
  function shapeOf(source: unknown): Result<BookSource> {
    const chapters = childrenOf(source, 'chapters').map((chapter) => {
      const list = childrenOf(chapter, 'exercises');
      if (!list.some(isShapely)) return chapter;
      return { ...(chapter as object), exercises: list.map((it) => (isShapely(it) ? LEAST_EXERCISE : it)) };
    });
    const light = checkShape((chapters.length > 0 ? { ...(source as object), chapters } : source) as JsonObject);
    const sound = light.ok && light.issues.length === 0;
    // A fault must be told at its place in the whole.
    if (!sound) return checkShape(source as JsonObject);
    const whole = source as BookSource;
    for (const exercise of whole.chapters.flatMap((chapter) => chapter.exercises)) shapely.add(exercise);
    return good(whole);
  }

  function read(given: unknown): ReadBook {
    const source = shareStructure(last?.source, given);
    if (!last || source !== last.source) last = { source, read: readAnew(source) };
    return last.read;
  }

  function readAnew(source: unknown): ReadBook {
    const issues: Issue[] = [];
    const out: Place[] = [];
    let chapters = childIndices(source, 'chapters');
    let editions = childIndices(source, 'editions');
    const places = new Map<string, Place>();
    let now: unknown = source;
    for (let round = 0; round < ROUNDS; round++) {
      now = shareStructure(lastRounds[round], now);
      lastRounds[round] = now;
      const shape = shapeOf(now);
      const book = shape.ok ? resolve(shape.value) : bad<Book>(...shape.issues);
      const found = [...(shape.ok ? shape.issues : []), ...book.issues];
      if (round === 0) issues.push(...found);
      if (book.ok && shape.ok) {
        shape.value.chapters.forEach((chapter, c) => {
          const at = chapters[c] as number;
          const kept = keptIn(source, at, out, sound);
          chapter.exercises.forEach((exercise, e) => {
            const place = { chapter: at, exercise: kept[e] as number };
            places.set(idOf(exercise, { chapter: c, exercise: e }), place);
            if (!out.some((it) => samePlace(it, place)) && sound.size < 4000) sound.set(idOf(exercise, place), exercise);
          });
        });
        cache.sweep();
        const index = (list: readonly number[], count: number) =>
          Array.from({ length: count }, (_, i) => (list.includes(i) ? list.indexOf(i) : undefined));
        return {
          book: book.value,
          issues,
          held: out,
          places,
          chapters: index(chapters, childIndices(source, 'chapters').length),
          editions: index(editions, childIndices(source, 'editions').length),
        };
      }
      // Paths of later rounds lead into the book without its faulty parts.
      const faults = found.filter(isError);
      const badEditions = new Set(faults.flatMap(({ path }) => (path[0] === 'editions' && typeof path[1] === 'number' ? [path[1]] : [])));
      const before = chapters;
      for (const { path } of faults) {
        const place = exercisePlace(path);
        if (!place) continue;
        const at = before[place.chapter] as number;
        const kept = keptIn(source, at, out, sound);
        const original = { chapter: at, exercise: kept[place.exercise] as number };
        // Found wrong even in its last sound form (by a default that changed): then it is left out.
        const again = out.some((it) => samePlace(it, original));
        if (again) sound.delete(idAt(source, original));
        else out.push(original);
      }
      editions = editions.filter((_, i) => !badEditions.has(i));
      chapters = childIndices(source, 'chapters').filter((c) => keptIn(source, c, out, sound).length > 0);
      const next = rebuilt(source, chapters, editions, out, sound);
      if (next === undefined) break;
      now = next;
    }
    cache.sweep();
    return { book: undefined, issues, held: out, places, chapters: [], editions: [] };
  }

  function line(exercise: Exercise, player: Player): Result<Line> {
    return cached(['line', identity(exercise), identity(player)], () => realise(exercise, player));
  }

  function breathe(spec: EditionSpec, player: Player, lines: ReadonlyMap<string, Line>): Result<EditionBreathing | undefined> {
    const { print, manner, added, breather } = spec.breath;
    if (print === 'none') return good(undefined);
    const lung = lungTime(breather, player.instrument);
    if (!lung.ok) return lung;
    const general = lung.value;
    if (!general) return good(undefined);
    const issues: Issue[] = [];
    const breathed = [...lines].flatMap(([id, line]) => {
      const found = cached(['breathed', identity(line), breather, manner, added], () => {
        const { dynamic } = line.exercise;
        const own = dynamic ? lungTime(breather, player.instrument, { dynamic }) : lung;
        return breatheExercise(line, (own.ok && own.value) || general, { manner, added });
      });
      issues.push(...found.issues.map((issue) => ({ ...issue, path: ['#', id, ...issue.path] })));
      return found.ok && found.value ? [[id, found.value] as const] : [];
    });
    return good({ lung: general, manner, ladders: print === 'marks-and-ladders', exercises: new Map(breathed) }, issues);
  }

  function set(read: ReadBook, edition: number, hasty = false): Result<SetEdition> {
    const sets = lastSets.get(read) ?? new Map<string, Result<SetEdition>>();
    lastSets.set(read, sets);
    const name = `${edition}${hasty ? ' hasty' : ''}`;
    const found = sets.get(`${edition}`) ?? sets.get(name) ?? setAnew(read, edition, hasty);
    sets.set(name, found);
    return found;
  }

  function setAnew(read: ReadBook, edition: number, hasty: boolean): Result<SetEdition> {
    const { book } = read;
    const spec = book?.editions[edition];
    if (!book || !spec) return bad();
    const who = playerOf(spec);
    if (!who.ok) return bad(...under(['editions', edition], who.issues));
    const player = one(players, who.value);
    const lines = new Map<string, Line>();
    const issues: Issue[] = under(['editions', edition], who.issues);
    for (const exercise of book.chapters.flatMap((chapter) => chapter.exercises)) {
      const found = line(exercise, player);
      const place = read.places.get(exercise.id) as Place;
      issues.push(...under(['chapters', place.chapter, 'exercises', place.exercise], found.issues));
      if (found.ok) lines.set(exercise.id, found.value);
    }
    const breathing = breathe(spec, player, lines);
    for (const issue of breathing.issues) {
      const place = issue.path[0] === '#' ? read.places.get(String(issue.path[1])) : undefined;
      const path = place
        ? ['chapters', place.chapter, 'exercises', place.exercise, ...issue.path.slice(2)]
        : ['editions', edition, ...issue.path];
      issues.push({ ...issue, path });
    }
    const content = {
      book,
      spec,
      player,
      lines,
      breathing: breathing.ok ? breathing.value : undefined,
      cache,
      lastBack,
      hasty,
      bodyOnly: read.bodyOnly ?? false,
    };
    const document = withKeptDrawings(editionDocument(content, fonts), content, cache);
    const pathOf = (exercise: string): Issue['path'] => {
      const place = read.places.get(exercise);
      return place ? ['chapters', place.chapter, 'exercises', place.exercise] : ['editions', edition];
    };
    issues.push(...pageIssues(document, pathOf));
    return good({ spec, player, document, lines, breathing: content.breathing, issues });
  }

  return { read, set, line, cache };
}

/** Drawings of systems that are on pages on the screen are kept too. */
function withKeptDrawings(document: Document, content: Pick<SetEdition, 'lines' | 'breathing'>, { cached, identity }: Cache): Document {
  const pages = document.pages.map((page): Page => {
    const items = page.items.map((item) => {
      if (item.kind !== 'drawing' || item.exercise === undefined) return item;
      const line = content.lines.get(item.exercise);
      const breathed = content.breathing?.exercises.get(item.exercise);
      if (!line) return item;
      const { draw, system, scale } = item;
      const key = ['drawing', identity(line), breathed && identity(breathed), document.width, document.margins, scale, system];
      return { ...item, draw: () => cached(key, draw) };
    });
    return { ...page, items };
  });
  return { ...document, pages };
}

function childrenOf(source: unknown, field: string): readonly unknown[] {
  const list = typeof source === 'object' && source !== null ? (source as Record<string, unknown>)[field] : undefined;
  return Array.isArray(list) ? list : [];
}

const childIndices = (source: unknown, field: string): number[] => childrenOf(source, field).map((_, i) => i);

const exercisesAt = (source: unknown, chapter: number): readonly unknown[] =>
  childrenOf(childrenOf(source, 'chapters')[chapter], 'exercises');

const idAt = (source: unknown, place: Place): string => {
  const exercise = exercisesAt(source, place.chapter)[place.exercise];
  const id = typeof exercise === 'object' && exercise !== null ? (exercise as { id?: unknown }).id : undefined;
  return typeof id === 'string' ? id : `${place.chapter + 1}.${place.exercise + 1}`;
};

/** Indices of the exercises of a chapter that are shown: all but those left out. */
function keptIn(source: unknown, chapter: number, out: readonly Place[], sound: ReadonlyMap<string, ExerciseSource>): number[] {
  return exercisesAt(source, chapter).flatMap((_, exercise) => {
    const place = { chapter, exercise };
    return out.some((it) => samePlace(it, place)) && !sound.has(idAt(source, place)) ? [] : [exercise];
  });
}

/** The source with its faulty parts in their last sound form, or without them. */
function rebuilt(
  source: unknown,
  chapters: readonly number[],
  editions: readonly number[],
  out: readonly Place[],
  sound: ReadonlyMap<string, ExerciseSource>,
): unknown {
  if (chapters.length === 0 || editions.length === 0) return undefined;
  const all = childrenOf(source, 'chapters');
  return {
    ...(source as object),
    editions: editions.map((i) => childrenOf(source, 'editions')[i]),
    chapters: chapters.map((c) => ({
      ...(all[c] as object),
      exercises: keptIn(source, c, out, sound).map((e) => {
        const place = { chapter: c, exercise: e };
        const faulty = out.some((it) => samePlace(it, place));
        const exercise = faulty ? sound.get(idAt(source, place)) : exercisesAt(source, c)[e];
        // The place may have moved; the id is stated so that it stays the same.
        return { ...(exercise as object), id: idAt(source, place) };
      }),
    })),
  };
}
