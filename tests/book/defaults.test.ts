/** Sheets, staves and margins, and what a book says when its author does not: each number written out. */
import { describe, expect, it, test } from 'vitest';
import type { Book } from '../../core/book/book.js';
import { EXERCISE_DEFAULTS, EXTRAS_DEFAULT, houseDefaults, pageSize, SPELLING_DEFAULT, staffHeight } from '../../core/book/defaults.js';
import { LEAST_BLOCK, PAGE_SIZES, textBlock } from '../../core/book/page-size.js';
import { demoBook } from '../ensemble/band.js';

// ISO 216:2007 (A4), JIS P 0138:1998 (B4), ANSI/ASME Y14.1 (letter, 8.5 × 11 in), concert size 9 × 12 in of music publishers.
test.each([
  ['a4', 210, 297],
  ['jis-b4', 257, 364],
  ['letter', 215.9, 279.4],
  ['9x12', 228.6, 304.8],
] as const)('%s is %d by %d mm', (size, width, height) => expect(PAGE_SIZES[size]).toEqual({ width, height }));

test('there are no other sheets', () => expect(Object.keys(PAGE_SIZES)).toHaveLength(4));

test('the text block is what the margins leave', () => {
  expect(textBlock('a4', { top: 10, bottom: 20, inner: 30, outer: 5 })).toEqual({ width: 175, height: 267 });
  expect(LEAST_BLOCK).toEqual({ width: 80, height: 100 });
});

/** A book that says nothing of its house. */
const silent = (more: Partial<Book['house']> = {}): Book => {
  const book = demoBook('small-wheels');
  return { ...book, house: { ...houseDefaults(), ...more } };
};

describe('height of the staff in millimetres (Gould, Behind Bars, p. 482 f.: parts 7 to 8.5, teaching material to 9)', () => {
  it.each([
    ['beginner', 9],
    ['intermediate', 7.5],
    ['advanced', 7.5],
    ['professional', 7],
  ] as const)('%s: %d', (level, height) => expect(staffHeight(silent(), { staff: undefined, level })).toBe(height));
  it('is that of the book, and first that of the edition', () => {
    expect(staffHeight(silent({ staff: 8 }), { staff: undefined, level: 'beginner' })).toBe(8);
    expect(staffHeight(silent({ staff: 8 }), { staff: 7.25, level: 'beginner' })).toBe(7.25);
  });
});

describe('the house (common practice)', () => {
  it.each([
    ['none', 15],
    ['stapled', 17],
    ['punched', 22],
    ['perfect', 24],
  ] as const)('%s: an inner margin of %d mm', (binding, inner) => {
    expect(houseDefaults(binding)).toEqual({
      page: '9x12',
      staff: undefined,
      margins: { top: 15, bottom: 17, inner, outer: 15 },
      binding,
      bleed: 0,
      cropMarks: false,
      chaptersOnRight: true,
    });
  });
  it('is stapled when nothing is said', () => expect(houseDefaults().binding).toBe('stapled'));
  it('has the sheet of the edition before that of the book', () => {
    expect(pageSize(silent({ page: 'a4' }), { page: undefined })).toBe('a4');
    expect(pageSize(silent({ page: 'a4' }), { page: 'letter' })).toBe('letter');
  });
});

test('settings of an exercise', () =>
  expect(EXERCISE_DEFAULTS).toEqual({
    scale: 'major',
    rhythm: 'eighths',
    metre: '4/4',
    padding: 'bar, long note',
    order: 'fourths',
    directions: 'up',
    passes: 1,
    turnaround: 'restart',
    start: 'lowest',
    ending: 'none',
    contour: 'nearest',
    misfit: 'report',
    articulation: '',
    signs: 'accidentals',
    simpleSpelling: false,
    keyNames: true,
    degreeNumbers: true,
  }));

test('extras and spelling', () => {
  expect(EXTRAS_DEFAULT).toEqual({
    compassChart: true,
    keyChart: true,
    scaleAppendix: false,
    figureIndex: true,
    keyIndex: false,
    contentsGrid: false,
    metronomeLadder: false,
    practiceRecord: false,
  });
  expect(SPELLING_DEFAULT).toEqual({ tie: 'flats', prefer: [] });
});
