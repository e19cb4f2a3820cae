/** What an editor's pages come from: drafts of a book, and their editions by the one builder with a cache. */
import { type Cache, type KeyPart, openCache } from '../base/cache.js';
import { bad, type Issue, type Result } from '../base/issue.js';
import { type Draft, type DraftReader, draftReader } from '../book/draft.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Exercise } from '../exercise/exercise.js';
import type { MatterPage } from '../layout/page/geometry.js';
import type { Line } from '../player/line.js';
import type { Player } from '../player/player.js';
import { type BuiltEdition, buildEdition, realised } from './edition.js';

export type Workshop = {
  /** Reads a book as an editor holds it, faults and all. */
  readonly read: DraftReader;
  /**
   * Builds one edition of a draft; an exercise that its player cannot play is left out. Issues have their place in the source.
   * `hasty`: appendices may stand as they were; the next building without it puts them right. `bodyOnly`: the chapters alone.
   */
  readonly build: (draft: Draft, edition: number, wish?: Wish) => Result<BuiltEdition>;
  readonly line: (exercise: Exercise, player: Player) => Result<Line>;
  readonly cache: Cache;
};

type Wish = { readonly hasty?: boolean; readonly bodyOnly?: boolean };

/** A path into a draft's book → the path into its source. */
function sourcePath(path: Issue['path'], { book, places }: Draft, edition: number): Issue['path'] {
  const [chapters, c, exercises, e, ...rest] = path;
  if (chapters !== 'chapters' || exercises !== 'exercises') return ['editions', edition, ...path];
  const place = places.get(book?.chapters[Number(c)]?.exercises[Number(e)]?.id ?? '');
  return place ? ['chapters', place.chapter, 'exercises', place.exercise, ...rest] : ['editions', edition, ...rest];
}

/** `made` is told of everything that had to be made anew, by its key. */
export function workshop(fonts: Fonts, made?: (key: readonly KeyPart[]) => void): Workshop {
  const cache = openCache(undefined, made);
  const readDraft = draftReader();
  const lastBack = new Map<string, readonly MatterPage[]>();
  /** Editions built of a draft; one that was built in haste is kept apart. */
  const built = new WeakMap<Draft, Map<string, Result<BuiltEdition>>>();
  let last: Draft | undefined;

  function read(source: unknown): Draft {
    const draft = readDraft(source);
    if (draft !== last) cache.sweep();
    last = draft;
    return draft;
  }

  function buildAnew(draft: Draft, edition: number, wish: Wish): Result<BuiltEdition> {
    const spec = draft.book?.editions[edition];
    if (!draft.book || !spec) return bad();
    const found = buildEdition(draft.book, spec, fonts, { cache, forgiving: true, lastBack, ...wish });
    return { ...found, issues: found.issues.map((issue) => ({ ...issue, path: sourcePath(issue.path, draft, edition) })) };
  }

  function build(draft: Draft, edition: number, wish: Wish = {}): Result<BuiltEdition> {
    const known = built.get(draft) ?? new Map<string, Result<BuiltEdition>>();
    built.set(draft, known);
    const name = `${edition}${wish.hasty ? ' hasty' : ''}${wish.bodyOnly ? ' body' : ''}`;
    const found = known.get(`${edition}`) ?? known.get(name) ?? buildAnew(draft, edition, wish);
    known.set(name, found);
    return found;
  }

  return { read, build, line: (exercise, player) => realised(exercise, player, cache), cache };
}
