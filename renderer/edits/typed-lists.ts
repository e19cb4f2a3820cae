/** Lists as they are typed: weeks and words. */

/** `1-4, 6` → weeks, in order and each once; undefined for none. */
export function weeksFrom(text: string): number[] | undefined {
  const weeks = text
    .split(/[\s,;]+/)
    .flatMap((word) => {
      const [, from, to = from] = /^(\d{1,2})(?:[-–](\d{1,2}))?$/.exec(word) ?? [];
      if (from === undefined) return [];
      const [a, b] = [Number(from), Number(to)];
      return Array.from({ length: Math.max(0, b - a + 1) }, (_, i) => a + i);
    })
    .filter((week) => week > 0);
  return weeks.length > 0 ? [...new Set(weeks)].sort((a, b) => a - b) : undefined;
}

/** Weeks as they are typed: `1–4, 6`. */
export function weeksText(weeks: readonly number[] | undefined): string {
  const runs: [number, number][] = [];
  for (const week of [...(weeks ?? [])].sort((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last && week <= last[1] + 1) last[1] = Math.max(last[1], week);
    else runs.push([week, week]);
  }
  return runs.map(([a, b]) => (a === b ? `${a}` : `${a}–${b}`)).join(', ');
}

export const wordsFrom = (text: string): string[] | undefined => {
  const words = text.split(/[\s,;]+/).filter(Boolean);
  return words.length > 0 ? words : undefined;
};
