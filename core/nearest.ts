/** The known name that a misspelled one most likely means. */

/** Single-letter insertions, deletions, replacements and swaps of neighbours that turn a into b (optimal string alignment). */
export function editDistance(a: string, b: string): number {
  const rows: number[][] = [Array.from({ length: b.length + 1 }, (_, j) => j)];
  const cell = (i: number, j: number) => rows[i]?.[j] as number;
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    rows.push(row);
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(cell(i - 1, j) + 1, cell(i, j - 1) + 1, cell(i - 1, j - 1) + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, cell(i - 2, j - 2) + 1);
      row.push(best);
    }
  }
  return cell(a.length, b.length);
}

/** The nearest of the names if at most a third of its letters differ, or if one contains the other; undefined otherwise. */
export function nearest(name: string, known: readonly string[]): string | undefined {
  const plain = (text: string) => text.toLowerCase().replace(/[^a-z0-9#]/g, '');
  const wanted = plain(name.slice(0, 60));
  if (wanted.length < 2) return undefined;
  const ranked = known
    .map((candidate) => {
      const other = plain(candidate);
      const distance = editDistance(wanted, other);
      const close = distance <= Math.max(1, Math.floor(Math.max(wanted.length, other.length) / 3));
      const within = wanted.length >= 3 && (other.includes(wanted) || (other.length >= 3 && wanted.includes(other)));
      return { candidate, distance, fits: close || within };
    })
    .filter((it) => it.fits)
    .sort((a, b) => a.distance - b.distance || (a.candidate < b.candidate ? -1 : 1));
  return ranked[0]?.candidate;
}

/** The end of a sentence: `; did you mean "beat"?`, or nothing when no name is near. */
export function didYouMean(name: string, known: readonly string[]): string {
  const found = nearest(name, known);
  return found === undefined ? '' : `; did you mean "${found}"?`;
}
