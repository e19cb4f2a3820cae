/** The one builder of an edition: a book and who reads it → lines → breaths → pages. Painting them is the caller's last step. */
import { type Cache, noCache } from '../base/cache.js';
import { assert, good, type Issue, isError, type Result, under } from '../base/issue.js';
import { mustGet } from '../base/list.js';
import { recomputedMap } from '../base/recomputed-map.js';
import type { Book, EditionSpec } from '../book/book.js';
import { airOf, type BreathedExercise, breathsOf, type ReaderBreaths } from '../breath/policy.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Exercise } from '../exercise/exercise.js';
import type { EditionContent } from '../layout/edition.js';
import { editionDocument } from '../layout/edition-pages.js';
import type { Document, Page } from '../layout/page/page.js';
import { exercisePaths, pageIssues } from '../layout/page/page-issues.js';
import { playerOf } from '../player/compass.js';
import type { Line } from '../player/line.js';
import type { Player } from '../player/player.js';
import { realise } from '../player/realise.js';

export type BuiltEdition = {
  readonly spec: EditionSpec;
  readonly player: Player;
  readonly document: Document;
  /** By exercise id. */
  readonly lines: ReadonlyMap<string, Line>;
  /** Undefined for an edition without breath marks. */
  readonly breathing: ReaderBreaths<BreathedExercise> | undefined;
};

export type BuildOptions = Pick<EditionContent, 'lastBack' | 'hasty' | 'bodyOnly'> & {
  /** Remembers what did not change since the last building; without it every page is the same. */
  readonly cache?: Cache;
  /** An exercise that this player cannot play is told and left out, and the rest is built. */
  readonly forgiving?: boolean;
};

/** Every exercise of the book with its place. */
const exercisesOf = (book: Book): { exercise: Exercise; path: Issue['path'] }[] =>
  book.chapters.flatMap((chapter, c) => chapter.exercises.map((exercise, e) => ({ exercise, path: ['chapters', c, 'exercises', e] })));

/** Every exercise of the book realised for one player. An exercise that cannot be played is an error with its place. */
export function realiseBook(book: Book, player: Player): Result<ReadonlyMap<string, Line>> {
  const lines = new Map<string, Line>();
  const issues: Issue[] = [];
  for (const { exercise, path } of exercisesOf(book)) {
    const line = realise(exercise, player);
    issues.push(...under(path, line.issues));
    if (line.ok) lines.set(exercise.id, line.value);
  }
  return issues.some(isError) ? { ok: false, issues } : good(lines, issues);
}

/** One exercise for one player, out of the cache where it is there. */
export const realised = (exercise: Exercise, player: Player, { cached, identity }: Cache): Result<Line> =>
  cached(['line', identity(exercise), identity(player)], () => realise(exercise, player));

/** So many exercises of an edition are held as they were realised; those of a longer book are realised again when they are needed. */
const HELD = 256;

/** What is made of each exercise, by its id: the first ones are held, the others made again when they are asked for. */
function exerciseMap<T>(most: number, again: (id: string) => Result<T | undefined>) {
  const ids: string[] = [];
  const held = new Map<string, T>();
  const remake = (id: string): T => {
    const made = again(id);
    assert(made.ok && made.value !== undefined, 'what was made once can be made again');
    return made.value;
  };
  return {
    add(id: string, value: T): void {
      ids.push(id);
      if (held.size < most) held.set(id, value);
    },
    map: () => recomputedMap(ids, remake, held),
  };
}

type Played = Pick<BuiltEdition, 'lines' | 'breathing'> & { readonly issues: readonly Issue[] };

/** Every exercise realised, and breathed where it has a tempo. Issues of the breaths come last. */
function playThrough(book: Book, { breath }: EditionSpec, player: Player, cache: Cache): Played {
  const { cached, identity } = cache;
  const lineOf = (exercise: Exercise) => realised(exercise, player, cache);
  const breathe = (line: Line) => cached(['breathed', identity(line), breath], () => breathsOf(line, breath));
  const exercises = exercisesOf(book);
  const byId = new Map(exercises.map(({ exercise }) => [exercise.id, exercise]));
  const most = cache === noCache ? HELD : Number.POSITIVE_INFINITY;
  const sounded = exerciseMap<Line>(most, (id) => lineOf(mustGet(byId, id)));
  const breathed = exerciseMap<BreathedExercise>(most, (id) => breathe(mustGet(lines, id)));
  const air = airOf(player.instrument, breath);
  const breathes = air.ok && air.value !== undefined;
  const issues: Issue[] = [];
  const breathIssues: Issue[] = air.ok ? [] : [...air.issues];
  for (const { exercise, path } of exercises) {
    const line = lineOf(exercise);
    issues.push(...under(path, line.issues));
    if (!line.ok) continue;
    sounded.add(exercise.id, line.value);
    const found = breathes ? breathe(line.value) : good(undefined);
    breathIssues.push(...under(path, found.issues));
    if (found.ok && found.value) breathed.add(exercise.id, found.value);
  }
  const lines = sounded.map();
  const { print, manner, added } = breath;
  const breathing = air.ok &&
    air.value && { lung: air.value, manner, added, ladders: print === 'marks-and-ladders', exercises: breathed.map() };
  return { lines, breathing: breathing || undefined, issues: [...issues, ...breathIssues] };
}

/** Drawings of systems that are on pages on the screen are remembered too. */
function withCachedDrawings(document: Document, { lines, breathing }: Played, { cached, identity }: Cache): Document {
  const pages = document.pages.map((page): Page => {
    const items = page.items.map((item) => {
      if (item.kind !== 'drawing' || item.exercise === undefined) return item;
      const line = lines.get(item.exercise);
      const breathed = breathing?.exercises.get(item.exercise);
      if (!line) return item;
      const { draw, system, scale } = item;
      const key = ['drawing', identity(line), breathed && identity(breathed), document.width, document.margins, scale, system];
      return { ...item, draw: () => cached(key, draw) };
    });
    return { ...page, items };
  });
  return { ...document, pages };
}

/** Issues have paths into the book. Fails with the errors of exercises that cannot be played, unless it is forgiving. */
export function buildEdition(book: Book, spec: EditionSpec, fonts: Fonts, options: BuildOptions = {}): Result<BuiltEdition> {
  const { cache = noCache, forgiving = false, ...setting } = options;
  const { instrument, level, compass, spelling } = spec;
  const found = cache.cached(['player', instrument, level, compass, spelling], () => playerOf(spec));
  if (!found.ok) return found;
  const player = found.value;
  const played = playThrough(book, spec, player, cache);
  const before = [...found.issues, ...played.issues];
  if (!forgiving && before.some(isError)) return { ok: false, issues: before };
  const { lines, breathing } = played;
  const set = editionDocument({ book, spec, player, lines, breathing, cache, ...setting }, fonts);
  const document = cache === noCache ? set : withCachedDrawings(set, played, cache);
  const issues = [...before, ...pageIssues(document, exercisePaths(book))];
  if (!forgiving && issues.some(isError)) return { ok: false, issues };
  return good({ spec, player, document, lines, breathing }, issues);
}
