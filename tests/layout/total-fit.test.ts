import { describe, expect, test } from 'vitest';
import {
  adjustmentRatios,
  badness,
  box,
  breakLines,
  ending,
  FORBIDDEN,
  FORCED,
  fitnessClass,
  glue,
  type Item,
  type LineWidths,
  type Options,
  penalty,
  positions,
} from '../../core/layout/total-fit.js';

/** Every character is 1 wide; a space is 1 and gives 0.5 or takes 0.3; `-` within a word is an optional hyphen. */
function paragraph(text: string): Item[] {
  const items: Item[] = [];
  text.split(' ').forEach((word, i) => {
    if (i > 0) items.push(glue(1, 0.5, 0.3));
    word.split('-').forEach((part, j) => {
      if (j > 0) items.push(penalty(50, 1, true));
      items.push(box(part.length));
    });
  });
  return [...items, ...ending()];
}

/** The lines as text, with the hyphens that were used. */
function lines(text: string, widths: LineWidths, options?: Options): string {
  const items = paragraph(text);
  const words = text.split(' ').flatMap((w) => w.split('-'));
  const boxes = items.map((item, i) => (item.kind === 'box' ? i : -1)).filter((i) => i >= 0);
  const breaks = breakLines(items, widths, options);
  const placed = positions(items, breaks, adjustmentRatios(items, widths, breaks));
  return breaks
    .map((_, line) => {
      let out = '';
      for (const p of placed.filter((q) => q.line === line)) {
        if (items[p.item]!.kind === 'penalty') out += '-';
        else out += (out && items[p.item - 1]?.kind === 'glue' ? ' ' : '') + words[boxes.indexOf(p.item)];
      }
      return out;
    })
    .join(' / ');
}

describe('the choice of breaks', () => {
  test.each<[string, LineWidths, string]>([
    ['one', 10, 'one'],
    ['aa bb cc', 10, 'aa bb cc'],
    ['aaa bbb ccc ddd', 7, 'aaa bbb / ccc ddd'],
    ['aaaa bbbb cccc dddd eeee', 9, 'aaaa bbbb / cccc dddd / eeee'],
    // Greedy filling would set `aaa bb cc / dddddd / ee`; total fit sees the gap in the second line coming.
    ['aaa bb cc dddddd ee', 9, 'aaa bb cc / dddddd ee'],
    ['prac-tice makes', 5, 'prac- / tice / makes'],
    ['aaaa bbbb cccc', [9, 4], 'aaaa bbbb / cccc'],
  ])('%s in %j', (text, widths, expected) => expect(lines(text, widths)).toBe(expected));

  test('total fit differs from filling each line in turn', () => {
    // First fit takes `aa bb` (5 of 6) and leaves `c` with a gap no glue can fill before the long word.
    const text = 'aaa bb cc ddddd';
    const items = paragraph(text);
    const ratios = adjustmentRatios(items, 6, breakLines(items, 6));
    expect(lines(text, 6)).toBe('aaa bb / cc / ddddd');
    expect(ratios[0]).toBe(0);
  });

  test('a higher cost moves the break', () => {
    // Six bars, three of which fill a line of 11 well.
    const bars = (cost: number) =>
      [...Array(6).keys()].flatMap((i) => [box(3), penalty(FORBIDDEN), glue(0.5, 1, 0.25), penalty(i === 5 ? FORCED : i === 2 ? cost : 0)]);
    expect(breakLines(bars(0), 11, { tolerance: 4 })).toEqual([11, 23]);
    expect(breakLines(bars(5000), 11, { tolerance: 4 })).toEqual([7, 15, 23]);
  });

  test('a forced break ends a line anywhere', () => {
    const items = [box(2), glue(0, 1e7), penalty(FORCED), box(2), ...ending()];
    expect(breakLines(items, 20)).toEqual([2, 6]);
  });

  test('two hyphens in a row are avoided when there is a choice', () => {
    const text = 'aa bbb-ccc dd eee-fff gg hh';
    const free = lines(text, 7, { flaggedDemerits: 0 });
    const strict = lines(text, 7, { flaggedDemerits: 1e9 });
    const run = (out: string) => /-\s\/\s[^/]*-(\s\/|$)/.test(out);
    expect(run(strict)).toBe(false);
    expect(typeof free).toBe('string');
  });
});

describe('it always answers', () => {
  test('a hopeless line is set loose, not overfull', () => {
    const items = paragraph('aaaa bbbbbbbb cccc dddddddd');
    const ratios = adjustmentRatios(items, 9, breakLines(items, 9));
    expect(ratios.every((r) => r >= -1)).toBe(true);
  });
  test('only a box wider than the line is overfull', () => {
    expect(lines('aa bbbbbbbbbbbbbbb cc', 6)).toBe('aa / bbbbbbbbbbbbbbb / cc');
    const items = paragraph('aa bbbbbbbbbbbbbbb cc');
    const ratios = adjustmentRatios(items, 6, breakLines(items, 6));
    expect(ratios.map((r) => r < -1)).toEqual([false, true, false]);
  });
  test('a missing forced break is a mistake of the caller', () => expect(() => breakLines([box(1)], 5)).toThrow('forced break'));
});

describe('ratios and positions', () => {
  test('a justified line ends at the margin, the last line stays natural', () => {
    const text = 'the scale is played slowly at first and then a little faster each day until it runs';
    const items = paragraph(text);
    const breaks = breakLines(items, 24);
    const ratios = adjustmentRatios(items, 24, breaks);
    const placed = positions(items, breaks, ratios);
    for (let line = 0; line < breaks.length - 1; line++) {
      const last = placed.filter((p) => p.line === line).at(-1)!;
      expect(last.x + last.width).toBeCloseTo(24, 9);
    }
    expect(Math.abs(ratios.at(-1)!)).toBeLessThan(1e-5);
  });
  test('ragged lines leave the room at their end', () => {
    const items = [box(3), glue(1), box(3), glue(1), box(3), penalty(FORCED)];
    const breaks = breakLines(items, 8, { lineStretch: 4 });
    expect(adjustmentRatios(items, 8, breaks)).toEqual(breaks.map(() => 0));
  });
  // Knuth & Plass: β = 100|r|³; classes split at -1/2, 1/2 and 1.
  test.each([
    [0, 0],
    [1, 100],
    [-1, 100],
    [2, 800],
    [0.5, 12.5],
    [-1.01, Number.POSITIVE_INFINITY],
  ])('badness of %f is %f', (r, b) => expect(badness(r)).toBe(b));
  test.each([
    [-0.6, 0],
    [-0.5, 1],
    [0.5, 1],
    [0.51, 2],
    [1, 2],
    [1.1, 3],
  ])('ratio %f is of class %i', (r, c) => expect(fitnessClass(r)).toBe(c));
});

/** All break sets, tried one by one: least total demerits of the same definition. */
function bruteForce(items: readonly Item[], width: number): number {
  const legal = items.flatMap((item, i) =>
    (item.kind === 'glue' && items[i - 1]?.kind === 'box') || (item.kind === 'penalty' && item.cost < 10_000 && i < items.length - 1)
      ? [i]
      : [],
  );
  let least = Number.POSITIVE_INFINITY;
  for (let mask = 0; mask < 1 << legal.length; mask++) {
    const breaks = [...legal.filter((_, i) => mask & (1 << i)), items.length - 1];
    least = Math.min(least, demeritsOf(items, width, breaks));
  }
  return least;
}

/** Straight from the definition, item by item, with no help from the code under test but `badness` and `fitnessClass`. */
function demeritsOf(items: readonly Item[], width: number, breaks: readonly number[]): number {
  let [sum, fitness, flagged, from] = [0, 1, false, 0];
  for (const at of breaks) {
    const line = items.slice(from, at);
    while (line[0] && line[0].kind !== 'box') line.shift();
    const end = items[at]!;
    let [natural, stretch, shrink] = [end.kind === 'penalty' ? end.width : 0, 0, 0];
    for (const item of line) {
      if (item.kind !== 'penalty') natural += item.width;
      if (item.kind === 'glue') [stretch, shrink] = [stretch + item.stretch, shrink + item.shrink];
    }
    const room = width - natural;
    const r = room === 0 ? 0 : room / (room > 0 ? stretch : shrink);
    if (r > 6 || r < -1) return Number.POSITIVE_INFINITY;
    const cost = end.kind === 'penalty' && end.cost > FORCED ? end.cost : 0;
    const isFlagged = end.kind === 'penalty' && end.flagged;
    sum += (10 + badness(r) + cost) ** 2 + (isFlagged && flagged ? 3000 : 0) + (Math.abs(fitnessClass(r) - fitness) > 1 ? 3000 : 0);
    [fitness, flagged, from] = [fitnessClass(r), isFlagged, at + 1];
  }
  return sum;
}

test.each([
  ['the quick fig-ure runs up and down in all keys', 14],
  ['aa bbb cc dddd e ff gg-gg hhh ii jjj', 9],
  ['one two three four five six sev-en eight', 13],
])('no set of breaks is better: %s', (text, width) => {
  const items = paragraph(text);
  const least = bruteForce(items, width);
  expect(least).toBeLessThan(Number.POSITIVE_INFINITY);
  expect(demeritsOf(items, width, breakLines(items, width, { tolerance: 6 }))).toBeCloseTo(least, 3);
});
