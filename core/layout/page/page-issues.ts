/** What a set document could not do well: systems that cannot be even, bars and texts that do not fit their page. */

import { error, type Issue, warning } from '../../base/issue.js';
import { DESCENT } from '../../engrave/ink.js';
import type { Unevenness } from '../music/systems.js';
import type { Document, PageItem } from './page.js';

/** Slack in points: rounding. */
const SLACK = 0.1;

type Path = readonly (string | number)[];

type System = { readonly number: number; readonly uneven: readonly Unevenness[] };

const list = (numbers: readonly number[]): string =>
  numbers.length === 1
    ? `system ${numbers[0]}`
    : `systems ${numbers.slice(0, -1).join(', ')}${numbers.length > 2 ? ',' : ''} and ${numbers.at(-1)}`;

/** One sentence for each kind of unevenness; numbers of systems from 1. */
function evenness(systems: readonly System[]): string {
  const having = (kind: Unevenness): number[] => systems.filter(({ uneven }) => uneven.includes(kind)).map(({ number }) => number);
  const parts = (
    [
      ['loose', 'more open than is good: a bar more would not fit'],
      ['tight', 'tighter than is good: it holds one wide bar'],
      ['jump', 'much more open or tighter than the one before'],
      ['count', 'with many more or fewer bars than the one before'],
    ] as const
  ).flatMap(([kind, words]) => (having(kind).length > 0 ? [`${list(having(kind))} ${words}`] : []));
  return `The bars of this exercise are so wide that no breaking fills its systems evenly: it sets ${parts.join('; ')}. A smaller staff, a wider page or shorter bars let more bars stand on a line.`;
}

/** Lowest and rightmost ink of an item, as far as it is known without drawing it. */
function reach(item: PageItem): { readonly right: number; readonly bottom: number } | undefined {
  if (item.kind === 'text') return { right: item.run.x + item.run.width, bottom: item.run.y + DESCENT * item.run.size };
  return item.kind === 'drawing' ? { right: item.x, bottom: item.y + 4 * item.scale } : undefined;
}

const exerciseOf = (item: PageItem): string | undefined => {
  if (item.kind === 'drawing') return item.exercise;
  return item.kind === 'text' && item.tag.kind === 'element'
    ? /^exercise (.+)-(title|aside|text|note|foot)/.exec(item.tag.id)?.[1]
    : undefined;
};

/** `pathOf` says where in the book file an exercise stands, by its id. */
export function pageIssues(document: Document, pathOf: (exercise: string) => Path): Issue[] {
  const uneven = new Map<string, System[]>();
  const issues: Issue[] = [];
  const told = new Set<string>();
  const { width, height, margins } = document;
  for (const { label, side, items } of document.pages) {
    const right = width - (side === 'left' ? margins.inner : margins.outer);
    const bottom = height - margins.bottom;
    for (const item of items) {
      if (item.kind === 'drawing' && item.exercise !== undefined && item.uneven) {
        const known = uneven.get(item.exercise) ?? [];
        uneven.set(item.exercise, [...known, { number: (item.system ?? 0) + 1, uneven: item.uneven }]);
      }
      const end = reach(item);
      if (!end || (end.right <= right + SLACK && end.bottom <= bottom + SLACK)) continue;
      const exercise = exerciseOf(item);
      const where = exercise ?? `page ${label}`;
      if (told.has(where)) continue;
      told.add(where);
      const how = end.bottom > bottom + SLACK ? 'is taller than the page' : 'is wider than the page';
      const what = exercise === undefined ? `A text on page ${label} ${how}` : `What stands over or under the music ${how}`;
      issues.push(
        warning(
          'off-the-page',
          exercise === undefined ? [] : pathOf(exercise),
          `${what}: shorten it, or choose a larger page or a smaller staff.`,
        ),
      );
    }
  }
  for (const [exercise, systems] of uneven) {
    const wide = systems.filter((system) => system.uneven.includes('overfull')).map(({ number }) => number);
    if (wide.length > 0) {
      const what = `A bar of this exercise is wider than the page (${list(wide)}): choose a shorter metre or longer notes, a wider page or a smaller staff.`;
      issues.push(error('bar-too-wide', pathOf(exercise), what));
    } else issues.push(warning('uneven-systems', pathOf(exercise), evenness(systems)));
  }
  return issues;
}

/** Where the exercises of a book stand in its file, by id. */
export function exercisePaths(book: {
  readonly chapters: readonly { readonly exercises: readonly { readonly id: string }[] }[];
}): (exercise: string) => Path {
  const paths = new Map(
    book.chapters.flatMap(({ exercises }, c) => exercises.map(({ id }, e) => [id, ['chapters', c, 'exercises', e]] as const)),
  );
  return (exercise) => paths.get(exercise) ?? [];
}
