/** The known name that a misspelled one most likely means. */

import { at, last } from './list.js';

/** Single-letter insertions, deletions, replacements and swaps of neighbours that turn a into b (optimal string alignment). */
export function editDistance(a: string, b: string): number {
  let above: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(at(row, j) + 1, at(next, j - 1) + 1, at(row, j - 1) + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, at(above, j - 2) + 1);
      next.push(best);
    }
    above = row;
    row = next;
  }
  return last(row);
}

/** The nearest of the names if at most a third of its letters differ, or if one contains the other; undefined otherwise. */
export function nearest(name: string, known: readonly string[]): string | undefined {
  const plain = (text: string) => text.toLowerCase().replace(/[^a-z0-9#]/g, '');
  const wanted = plain(name.slice(0, 60));
  if (wanted.length < 2) return undefined;
  const ranked = known
    .flatMap((candidate) => {
      const other = plain(candidate);
      const within = wanted.length >= 3 && (other.includes(wanted) || (other.length >= 3 && wanted.includes(other)));
      const most = Math.max(1, Math.floor(Math.max(wanted.length, other.length) / 3));
      // Names whose lengths differ by more than this differ in more letters than this: they need no counting.
      if (!within && Math.abs(wanted.length - other.length) > most) return [];
      const distance = editDistance(wanted, other);
      return within || distance <= most ? [{ candidate, distance }] : [];
    })
    .sort((a, b) => a.distance - b.distance || (a.candidate < b.candidate ? -1 : 1));
  return ranked[0]?.candidate;
}

/** The end of a sentence: `; did you mean "beat"?`, or nothing when no name is near. */
export function didYouMean(name: string, known: readonly string[]): string {
  const found = nearest(name, known);
  return found === undefined ? '' : `; did you mean "${found}"?`;
}
