import { describe, expect, test } from 'vitest';
import { distinctKeys, figureMode, figureSpan, toneInterval } from '../../core/exercise/figure.js';
import { FIGURE_GROUPS, FIGURE_LIBRARY, figureById, figuresIn } from '../../core/exercise/figure-library.js';
import type { Mode } from '../../core/theory/key.js';

/** Lowest and highest semitone of figures 1 to 69: a table computed apart from this program for figures of common practice. */
const SPANS: readonly (readonly [number, number])[] = [
  [0, 7],
  [0, 7],
  [0, 7],
  [0, 9],
  [0, 11],
  [0, 12],
  [0, 12],
  [0, 24],
  [0, 14],
  [0, 19],
  [0, 12],
  [0, 5],
  [0, 14],
  [0, 14],
  [0, 12],
  [0, 16],
  [0, 14],
  [0, 16],
  [0, 19],
  [0, 12],
  [0, 12],
  [0, 16],
  [0, 7],
  [0, 16],
  [0, 14],
  [0, 12],
  [0, 16],
  [0, 14],
  [0, 12],
  [0, 12],
  [7, 17],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 14],
  [0, 9],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [0, 12],
  [-1, 1],
  [0, 12],
  [0, 12],
  [0, 12],
  [-1, 2],
  [3, 5],
  [6, 9],
  [-2, 0],
  [-1, 9],
  [-1, 2],
  [0, 7],
  [2, 12],
  [0, 15],
  [0, 2],
];

/** Notes of figures 1 to 69, from the same table. */
const SIZES = [
  9, 4, 4, 16, 16, 18, 15, 15, 17, 12, 14, 13, 15, 15, 12, 15, 10, 10, 10, 7, 7, 12, 4, 10, 15, 12, 16, 12, 9, 9, 8, 9, 9, 9, 7, 9, 4, 8,
  15, 15, 15, 15, 8, 8, 8, 8, 8, 11, 11, 12, 13, 7, 9, 9, 13, 5, 8, 8, 9, 3, 3, 3, 3, 9, 5, 12, 9, 4, 9,
];

test('the library holds as many figures as the table', () => {
  expect(FIGURE_LIBRARY).toHaveLength(69);
  expect(SPANS).toHaveLength(69);
  expect(SIZES).toHaveLength(69);
});

describe.each(FIGURE_LIBRARY.map((entry, i) => [entry.id, entry, i] as const))('%s', (_, entry, i) => {
  test('stands at its number', () => expect(entry.number).toBe(i + 1));
  test('has the span of the table', () => expect([entry.span.low, entry.span.high]).toEqual(SPANS[i]));
  test('has as many notes as the table', () => expect(entry.figure.tones).toHaveLength(SIZES[i] as number));
  test('reads the same in its own scale and in major', () => {
    expect(figureSpan(entry.figure, 'major')).toEqual(entry.span);
    for (const tone of entry.figure.tones) {
      if (tone.kind === 'note') expect(toneInterval(tone, entry.scale)).toEqual(toneInterval(tone, 'major'));
    }
  });
  test('has a kebab-case id that finds it', () => {
    expect(entry.id).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    const found = figureById(entry.id);
    expect(found.ok && found.value).toBe(entry);
  });
});

test('ids and titles differ', () => {
  expect(new Set(FIGURE_LIBRARY.map((f) => f.id)).size).toBe(69);
  expect(new Set(FIGURE_LIBRARY.map((f) => f.title)).size).toBe(69);
});

test('every group has figures, and every figure has a group', () => {
  expect(FIGURE_GROUPS.every((group) => figuresIn(group).length > 0)).toBe(true);
  expect(FIGURE_GROUPS.flatMap(figuresIn)).toHaveLength(69);
});

// Common practice.
test.each([
  ['major-arpeggio', 12],
  ['whole-tone', 2],
  ['octatonic-whole-half', 3],
  ['octatonic-half-whole', 3],
  ['diminished-seventh-arpeggio', 3],
  ['augmented-arpeggio', 4],
  ['chromatic', 1],
])('%s: %d different transpositions', (id, count) => {
  const found = figureById(id);
  expect(found.ok && distinctKeys(found.value.figure, found.value.scale)).toBe(count);
});

test.each<[string, Mode]>([
  ['cell-1-2-3-5', 'major'],
  ['minor-arpeggio', 'minor'],
  ['melodic-minor', 'minor'],
  ['dorian', 'minor'],
  ['mixolydian', 'major'],
  ['octatonic-half-whole', 'major'],
  ['altered', 'major'],
  ['blues', 'minor'],
])('%s takes a %s signature', (id, mode) => {
  const found = figureById(id);
  expect(found.ok && figureMode(found.value.figure, found.value.scale)).toBe(mode);
});

describe('an unknown id', () => {
  test.each([
    ['dorain', 'dorian'],
    ['cell-1-2-3-6', 'cell-1-2-3-5'],
    ['Harmonic Minor', 'harmonic-minor'],
  ])('%s suggests %s', (id, near) => {
    const found = figureById(id);
    expect(found.ok).toBe(false);
    expect(found.issues.map((i) => i.code)).toEqual(['unknown-figure']);
    expect(found.issues[0]?.message).toContain(`did you mean "${near}"?`);
  });
  test('with nothing near it suggests the list', () => {
    expect(figureById('zzzzzzzzzz').issues[0]?.message).toContain('choose an id from the list');
  });
});
