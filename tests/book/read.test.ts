import { describe, expect, it } from 'vitest';
import { pathText } from '../../core/base/issue.js';
import { houseDefaults, pageSize, staffHeight } from '../../core/book/defaults.js';
import { readBook } from '../../core/book/read.js';
import { frac } from '../../core/theory/fraction.js';
import { smallBook, spoiled } from './small-book.js';

const read = (book: object) => readBook(JSON.stringify(book));
const told = (book: object) => read(book).issues.map((issue) => `${issue.code} @ ${pathText(issue.path)}: ${issue.message}`);

/** The first exercise of the small book with these settings. */
const exerciseWith = (settings: object) => {
  const result = read(spoiled('chapters.0.exercises.0', { id: 'a', figure: '1 2 3 5', ...settings }));
  if (!result.ok) throw new Error(result.issues.map((issue) => issue.message).join('\n'));
  return result.value.chapters[0]!.exercises[0]!;
};

it('reads a small book without a word', () => {
  expect(told(smallBook())).toEqual([]);
});

describe('one fault, one sentence, its place', () => {
  const ex = 'chapters.1.exercises.0';
  const cases: readonly [at: string, value: unknown, place: string, words: string][] = [
    // Shape.
    ['title', undefined, 'title', 'This is missing; write the title of the book'],
    ['title', 'two\nlines', 'title', 'on one line'],
    ['title', 'x'.repeat(300), 'title', 'at most 200 characters'],
    ['editions', 'flute', 'editions', 'This is the text "flute"; write a list of instruments'],
    ['editions.0', 7, 'edition 1', 'This is 7; write the id of an instrument'],
    ['editions.0', { instrument: 'flute', level: 'expert' }, 'edition 1, level', 'write one of "beginner"'],
    ['chapters.0.exercises', {}, 'chapter 1, exercises', 'This is an object; write a list of exercises'],
    [`${ex}.figure`, undefined, 'chapter 2, exercise 1, figure', 'This is missing; write the figure as degrees'],
    [`${ex}.figure`, 1235, 'chapter 2, exercise 1, figure', 'This is 1235; write the figure as degrees'],
    [`${ex}.figure`, { library: 5 }, 'chapter 2, exercise 1, figure, library', 'write the id of a figure'],
    [`${ex}.passes`, 3, 'chapter 2, exercise 1, passes', 'write 1 or 2'],
    [`${ex}.contour`, 'nearst', 'chapter 2, exercise 1, contour', 'did you mean "nearest"?'],
    [`${ex}.padding`, 'beat', 'chapter 2, exercise 1, padding', '"beat, long note"'],
    [`${ex}.order`, 'forths', 'chapter 2, exercise 1, order', 'did you mean "fourths"?'],
    [`${ex}.order`, 5, 'chapter 2, exercise 1, order', 'the name of a key order'],
    [`${ex}.misfit`, 'skip', 'chapter 2, exercise 1, misfit', '"leave-out"'],
    [`${ex}.misfit`, { level: 'top' }, 'chapter 2, exercise 1, misfit, level', '"professional"'],
    [`${ex}.start`, 'Bb', 'chapter 2, exercise 1, start', '{"concert": "Bb"}'],
    [`${ex}.keyNames`, 'yes', 'chapter 2, exercise 1, keyNames', 'write true or false'],
    [`${ex}.tempo`, { from: 'fast' }, 'chapter 2, exercise 1, tempo, from', 'beats a minute'],
    [`${ex}.id`, 'no spaces', 'chapter 2, exercise 1, id', 'letters, digits'],
    ['house.staff', 3, 'house, staff', 'a number from 4 to 12'],
    ['house.staff', 13, 'house, staff', 'a number from 4 to 12'],
    ['house.page', 'A4', 'house, page', 'did you mean "a4"?'],
    ['preface', 5, 'preface', 'Markdown text or a list of lines'],
    // Meaning.
    ['date', '2026-02-30', 'date', 'is not a date'],
    ['language', 'english!', 'language', 'not a language tag'],
    ['editions', [], 'editions', 'no edition'],
    ['chapters', [], 'chapters', 'no chapter'],
    ['chapters.1.exercises', [], 'chapter 2, exercises', 'has no exercise'],
    ['editions.0', 'flutte', 'edition 1', 'flute'],
    ['editions.0', { instrument: 'kazoo' }, 'edition 1, instrument', 'kazoo'],
    ['editions.0', { instrument: 'flute', compass: { low: 'C6', high: 'C4' } }, 'edition 1, compass', 'exchange "low" and "high"'],
    ['editions.0', { instrument: 'flute', compass: { low: 'H4' } }, 'edition 1, compass, low', '"H4" is not a note'],
    ['editions.0', { instrument: 'flute', spelling: { prefer: ['X'] } }, 'edition 1, spelling, prefer 1', '"X" is not a key'],
    [`${ex}.figure`, '1 2 x 5', 'chapter 2, exercise 1, figure', '`x`'],
    [`${ex}.figure`, { library: 'turns' }, 'chapter 2, exercise 1, figure, library', 'did you mean "turn"?'],
    [`${ex}.scale`, 'harmonic', 'chapter 2, exercise 1, scale', 'did you mean "harmonic minor"?'],
    [`${ex}.metre`, '4/5', 'chapter 2, exercise 1, metre', '"4/5" is not a metre'],
    [`${ex}.rhythm`, '1/8 1/9', 'chapter 2, exercise 1, rhythm', '1/9'],
    [`${ex}.order`, ['Bb', 'H'], 'chapter 2, exercise 1, order 2', '`H` is not a key'],
    [`${ex}.order`, { name: 'shuffle' }, 'chapter 2, exercise 1, order, seed', 'needs a seed'],
    [`${ex}.start`, { concert: 'H' }, 'chapter 2, exercise 1, start, concert', '"H" is not a key'],
    [`${ex}.start`, { concert: 'C', written: 'D' }, 'chapter 2, exercise 1, start', 'one starting key'],
    [`${ex}.start`, {}, 'chapter 2, exercise 1, start', 'one starting key'],
    [`${ex}.tempo`, { from: 0, to: 90 }, 'chapter 2, exercise 1, tempo, from', '0 beats a minute is no tempo'],
    [`${ex}.tempo`, { from: 60, to: 9000 }, 'chapter 2, exercise 1, tempo, to', '9000 beats a minute'],
    [`${ex}.tempo`, { from: 90, to: 60 }, 'chapter 2, exercise 1, tempo', 'from 90 down to 60'],
    [`${ex}.tempo`, { from: 60, beat: '1/3' }, 'chapter 2, exercise 1, tempo, beat', 'is not a beat'],
    [`${ex}.articulation`, 'slur 2, hum 2', 'chapter 2, exercise 1, articulation', '"hum 2" is not an articulation'],
    [`${ex}.id`, 'a', 'chapter 2, exercise 1, id', 'belongs to chapter 1, exercise 1 already'],
    ['chapters.1.id', 'chapter-1', 'chapter 2, id', 'belongs to chapter 1 already'],
    ['house.margins', { inner: 80, outer: 75 }, 'house, margins', '80 mm are needed'],
    ['house.margins', { top: 80, bottom: 80 }, '', ''],
    ['defaults.metre', '9/4', 'defaults, metre', 'is not a metre'],
    ['chapters.1.defaults', { rhythm: 'eigths' }, 'chapter 2, defaults, rhythm', 'did you mean "eighths"?'],
  ];
  it.each(cases)('%s = %j', (at, value, place, words) => {
    const issues = told(spoiled(at, value));
    if (place === '') {
      expect(issues).toEqual([]);
      return;
    }
    expect(issues).toHaveLength(1);
    expect(issues[0]).toContain(`@ ${place}: `);
    expect(issues[0]).toContain(words);
    expect(issues[0]).toMatch(/[.?]$/);
    expect(issues[0]).not.toMatch(/undefined|NaN|\[object|Invalid input|expected/i);
  });
});

it('tells the span of a wrong degree in its text', () => {
  expect(read(spoiled('chapters.0.exercises.0.figure', '1 2 x 5')).issues[0]?.span).toEqual([4, 5]);
});

it('tells many faults at once', () => {
  const book = spoiled('chapters.0.exercises.0.metre', '4/5');
  Object.assign(book, { editions: ['kazoo', 'flute'], date: 'today' });
  expect(
    read(book)
      .issues.map((issue) => issue.code)
      .sort(),
  ).toEqual(['date', 'unknown-instrument', 'unknown-metre']);
});

describe('fields that are not known', () => {
  it.each([
    ['chapters.0.exercises.0.tempi', 'chapter 1, exercise 1, tempi', 'did you mean "tempo"?'],
    ['chapters.0.exercises.0.xyz', 'chapter 1, exercise 1, xyz', 'remove it or correct its name'],
    ['house.staf', 'house, staf', 'did you mean "staff"?'],
    ['publishr', 'publishr', 'did you mean "publisher"?'],
  ])('%s is a warning, and the book is read', (at, place, words) => {
    const result = read(spoiled(at, 'x'));
    expect(result.ok).toBe(true);
    expect(result.issues).toHaveLength(1);
    const issue = result.issues[0]!;
    expect(issue.severity).toBe('warning');
    expect(pathText(issue.path)).toBe(place);
    expect(issue.message).toContain(words);
  });

  it('inside a field that takes several forms are found too', () => {
    const result = read(spoiled('editions.0', { instrument: 'oboe', levl: 'beginner', x: 1 }));
    expect(result.ok && result.value.editions[0]).toMatchObject({ instrument: 'oboe', level: 'intermediate' });
    expect(result.issues.map((issue) => pathText(issue.path))).toEqual(['edition 1, levl', 'edition 1, x']);
  });

  it('are told beside errors, not instead of them', () => {
    const book = spoiled('publishr', 'x');
    book.title = 5;
    expect(read(book).issues.map((issue) => issue.severity)).toEqual(['error', 'warning']);
  });
});

describe('defaults', () => {
  it('of the program', () => {
    const result = read(smallBook());
    const book = result.ok ? result.value : undefined;
    expect(book?.house).toEqual(houseDefaults());
    expect(book?.house.page).toBe('9x12');
    expect(book?.editions[0]).toMatchObject({ level: 'intermediate', compass: undefined, spelling: { tie: 'flats', prefer: [] } });
    expect(book?.chapters[1]).toMatchObject({ id: 'chapter-2', text: '' });
    expect(exerciseWith({ id: undefined })).toMatchObject({ id: '1.1', title: '1 2 3 5', keyNames: true, degreeNumbers: true, passes: 1 });
  });

  it('of the book and the chapter, the nearer one first', () => {
    const book = spoiled('defaults', { dynamic: 'p', metre: '3/4', passes: 2 });
    const chapters = book.chapters as { defaults?: object }[];
    chapters[1]!.defaults = { dynamic: 'f', metre: '6/8' };
    Object.assign((book.chapters as { exercises: object[] }[])[1]!.exercises[0]!, { metre: '2/4' });
    const result = read(book);
    const found = result.ok
      ? result.value.chapters.map((c) => c.exercises.map((e) => [e.dynamic, `${e.metre.beats}/${e.metre.unit}`, e.passes]))
      : [];
    expect(found).toEqual([
      [['p', '3/4', 2]],
      [
        ['f', '2/4', 2],
        ['f', '6/8', 2],
      ],
    ]);
  });

  it('a fault in them is told once', () => {
    expect(told(spoiled('defaults.scale', 'x'))).toHaveLength(1);
  });

  it('staff height by reading level, edition before book', () => {
    const result = read({
      ...smallBook(),
      editions: ['flute', { instrument: 'oboe', level: 'beginner' }, { instrument: 'tuba', staff: 8, page: 'a4' }],
    });
    const book = result.ok ? result.value : undefined;
    expect(book?.editions.map((edition) => [staffHeight(book, edition), pageSize(book, edition)])).toEqual([
      [7.5, '9x12'],
      [9, '9x12'],
      [8, 'a4'],
    ]);
  });

  it.each([
    ['4/4', 1, 4],
    ['2/2', 1, 2],
    ['6/8', 3, 8],
    ['7/8', 1, 8],
  ])('tempo beat in %s', (metre, n, d) => {
    expect(exerciseWith({ metre }).tempo).toEqual({ beat: frac(n, d), from: 60, to: 100 });
  });
});

describe('forms of fields', () => {
  it.each([
    [{ padding: 'flow' }, { padding: { to: 'flow' } }],
    [{ padding: 'beat, rests' }, { padding: { to: 'beat', by: 'rests' } }],
    [{ padding: 'bar, long note' }, { padding: { to: 'bar', by: 'long-note' } }],
    [{ start: 'lowest' }, { start: { kind: 'lowest' } }],
    [{ start: { written: 'F#' } }, { start: { kind: 'written', key: { letter: 3, alter: 1 } } }],
    [{ misfit: { level: 'professional' } }, { misfit: { kind: 'level', level: 'professional' } }],
    [{ tempo: { from: 80 } }, { tempo: { beat: frac(1, 4), from: 80, to: 80 } }],
    [{ tempo: { from: 80, beat: 'dotted quarter' } }, { tempo: { beat: frac(3, 8) } }],
    [{ instruction: ['one', 'two'] }, { instruction: 'one\ntwo' }],
    [{ figure: { library: 'dorian' } }, { title: 'Dorian scale', scale: 'dorian' }],
    [{ figure: { library: 'dorian' }, scale: 'major' }, { scale: 'major' }],
    // A list names real keys, so it begins on its first key.
    [{ order: ['Bb', 'Eb'] }, { start: { kind: 'concert', key: { letter: 6, alter: -1 } }, order: { name: 'custom', setSize: 2 } }],
    [{ order: ['Am', 'C'] }, { start: { kind: 'concert', key: { letter: 5, alter: 0 } } }],
    [{ order: ['Bb', 'Eb'], start: 'lowest' }, { start: { kind: 'lowest' } }],
  ])('%j', (settings, expected) => {
    expect(exerciseWith(settings)).toMatchObject(expected);
  });
});

it('never throws, whatever stands in a field', () => {
  const odd = [null, 0, -1, 1e308, '', 'x', [], [[]], {}, { a: 1 }, true, [null], ['', 5]];
  const fields = [
    'title',
    'house',
    'house.margins',
    'extras',
    'spelling',
    'spelling.prefer',
    'editions',
    'editions.0',
    'defaults',
    'chapters',
    'chapters.0',
  ];
  const settings = [
    'figure',
    'id',
    'title',
    'instruction',
    'order',
    'start',
    'misfit',
    'tempo',
    'rhythm',
    'scale',
    'articulation',
    'metre',
    'padding',
  ];
  for (const at of [...fields, ...settings.map((name) => `chapters.0.exercises.0.${name}`)]) {
    for (const value of odd) {
      const result = read(spoiled(at, value));
      if (!result.ok) expect(result.issues.length).toBeGreaterThan(0);
    }
  }
});
