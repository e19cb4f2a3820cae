/** Everything a user can get wrong: one clear sentence with its place, the right exit code, nothing half-written. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { smallBook, spoiled } from '../book/small-book.js';
import { workbench } from './run.js';

let bench: ReturnType<typeof workbench>;
beforeAll(() => {
  bench = workbench();
});
afterAll(() => bench.clear());

const ex = 'chapters.1.exercises.0';
const text = JSON.stringify(smallBook());

const files: readonly [name: string, content: string | object | undefined, sentence: string][] = [
  ['a missing file', undefined, 'error: There is no file or folder "book.twelvefold"; check the name and the folder.'],
  ['an empty file', '', 'error: The file is empty; choose another file, or begin a book with "twelvefold new".'],
  [
    'a file cut short',
    text.slice(0, 200),
    'error: The file is cut short: it ends at line 1, column 201, before the book is complete; use a whole copy of it.',
  ],
  [
    'a file that is not JSON',
    'Dear band,',
    'error: This is not a book file: a book file is JSON text that begins with "{"; choose another file.',
  ],
  [
    'JSON with a fault',
    text.replace(',"date"', ' "date"'),
    'error: The file is not valid JSON: at line 1, column 59, write a comma or "}" here.',
  ],
  ['JSON of another kind', '{"a": 1}', 'error: format: This JSON file is not a Twelvefold book'],
  [
    'a version of the future',
    spoiled('version', 7),
    'error: version: The book was saved by a newer Twelvefold (file version 7; this one reads up to 1)',
  ],
  [
    'an unknown version',
    spoiled('version', 'two'),
    'error: version: The version of the book file is missing or not a whole number; write "version": 1.',
  ],
  ['an unknown instrument', spoiled('editions', ['flute', 'kazoo']), 'error: edition 2: There is no instrument "kazoo"'],
  [
    'a wrong figure',
    spoiled(`${ex}.figure`, '1 2 x 5'),
    'error: chapter 2, exercise 1, figure: The character `x` has no meaning in a figure',
  ],
  [
    'an unknown library figure',
    spoiled(`${ex}.figure`, { library: 'turm' }),
    'error: chapter 2, exercise 1, figure, library: The library has no figure "turm"; did you mean "turn"?',
  ],
  [
    'an unknown key',
    spoiled(`${ex}.start`, { concert: 'H' }),
    'error: chapter 2, exercise 1, start, concert: "H" is not a key; write a note name such as "C", "Bb" or "F#".',
  ],
  ['an unknown metre', spoiled(`${ex}.metre`, '4/5'), 'error: chapter 2, exercise 1, metre: "4/5" is not a metre that can be printed'],
  ['a figure too wide for the compass', spoiled(`${ex}.figure`, '1 8 15 22'), 'error: chapter 2, exercise 1, figure: '],
  [
    'an empty chapter',
    spoiled('chapters.1.exercises', []),
    'error: chapter 2, exercises: The chapter "Two" has no exercise; write at least one, or remove the chapter.',
  ],
  [
    'two exercises with one id',
    spoiled(`${ex}.id`, 'a'),
    'error: chapter 2, exercise 1, id: The id "a" belongs to chapter 1, exercise 1 already; give this exercise another one.',
  ],
  [
    'a tempo of 0',
    spoiled(`${ex}.tempo`, { from: 0 }),
    'error: chapter 2, exercise 1, tempo, from: 0 beats a minute is no tempo; write a number from 20 to 400.',
  ],
  [
    'a page too small for its margins',
    spoiled('house.margins', { inner: 80, outer: 80 }),
    'error: house, margins: The page (9x12, 228.6 × 304.8 mm) is too small for its margins: 68.6 mm of width are left',
  ],
];

describe.each(['check', 'build'])('%s', (command) => {
  it.each(files)('%s', async (name, content, sentence) => {
    const file = 'book.twelvefold';
    if (content === undefined) bench.remove(file);
    else bench.write(file, content);
    const before = bench.names();
    const answer = await bench.run([command, file, ...(command === 'build' ? ['--out', 'out'] : [])]);
    expect(answer.code).toBe(1);
    expect(answer.err.startsWith(sentence), `${name}: ${answer.err}`).toBe(true);
    expect(answer.err.match(/^error: (?!the edition for)/gm)).toHaveLength(1);
    expect(answer.err).not.toMatch(/\n\s+at |Error:|undefined|\[object|NaN/);
    expect(bench.names().filter((it) => it !== 'out' && it !== file)).toEqual(before.filter((it) => it !== 'out' && it !== file));
  });
});

it('shows the wrong character of a figure', async () => {
  bench.write('caret.twelvefold', spoiled(`${ex}.figure`, '1 ♭3 x 5'));
  const { err } = await bench.run(['check', 'caret.twelvefold']);
  expect(err.split('\n').slice(1, 3)).toEqual(['    1 ♭3 x 5', '         ^']);
});

it('tells all faults of a book at once, and warnings after errors', async () => {
  bench.write('many.twelvefold', { ...spoiled(`${ex}.metre`, '4/5'), editions: ['kazoo'], publishr: 'x' });
  const { err, out } = await bench.run(['check', 'many.twelvefold']);
  expect(err.match(/^\w+:/gm)).toEqual(['error:', 'error:', 'warning:']);
  expect(out).toBe('many.twelvefold: 2 errors, 1 warning.\n');
});

it('reads no file of 100 MB', async () => {
  writeFileSync(join(bench.folder, 'huge.twelvefold'), Buffer.alloc(100 * 1024 * 1024, 0x20));
  const { code, err } = await bench.run(['check', 'huge.twelvefold']);
  expect([code, err]).toEqual([1, 'error: "huge.twelvefold" is too large for a book file (100 MB); choose another file.\n']);
});

describe('an output folder that cannot be used', () => {
  it.each([
    ['good.twelvefold', 'error: "good.twelvefold" is a file, not a folder; choose another folder with --out.\n'],
    [
      'good.twelvefold/x',
      'error: "good.twelvefold/x" cannot be used, because a part of it is a file and not a folder; choose another folder.\n',
    ],
  ])('%s', async (out, sentence) => {
    bench.write('good.twelvefold', smallBook());
    const before = bench.names();
    expect(await bench.run(['build', 'good.twelvefold', '--out', out])).toEqual({ code: 1, out: '', err: sentence });
    expect(bench.names()).toEqual(before);
  });
});

it('an edition that the book does not have', async () => {
  bench.write('good.twelvefold', smallBook());
  const { code, err } = await bench.run(['build', 'good.twelvefold', '--out', 'none', '--edition', 'oboe']);
  expect([code, err]).toEqual([1, 'error: The book has no edition "oboe"; choose one of flute.\n']);
  expect(bench.names()).not.toContain('none');
});

describe('a wrong command', () => {
  it.each([
    [['chek', 'a'], "unknown command 'chek'"],
    [['check'], "missing required argument 'file'"],
    [['check', 'a', '--jsn'], "unknown option '--jsn'"],
    [['show', 'a', '--player', 'flute'], "required option '--exercise <id>'"],
    [['show', 'a', '--exercise', 'x', '--player', 'flute', '--level', 'top'], 'Allowed choices are beginner'],
    [[], 'Usage: twelvefold'],
  ])('%j is a usage error', async (args, words) => {
    const { code, err, out } = await bench.run(args);
    expect(code).toBe(2);
    expect(err).toContain(words);
    expect(out).toBe('');
  });

  it('help is no error', async () => {
    const { code, out, err } = await bench.run(['--help']);
    expect([code, err]).toEqual([0, '']);
    for (const command of ['build', 'check', 'show', 'new', 'instruments', 'figures', 'key-orders']) expect(out).toContain(command);
  });
});

it('a fault of the program is one sentence and no trace', async () => {
  bench.write('good.twelvefold', smallBook());
  const out = () => {
    throw new Error('assumption broken: a bar has an end\n    at somewhere');
  };
  const { code, err } = await bench.run(['check', 'good.twelvefold'], { out });
  expect(code).toBe(70);
  expect(err).toBe(
    'This is a fault of Twelvefold, not of your book; please report it with the book file and this line: assumption broken: a bar has an end\n',
  );
});

it('a stop is told, and nothing is left', async () => {
  bench.write('good.twelvefold', smallBook());
  const before = bench.names();
  const stop = new AbortController();
  stop.abort();
  const { code, err } = await bench.run(['build', 'good.twelvefold', '--out', '.'], { signal: stop.signal });
  expect([code, err]).toEqual([130, 'Stopped; nothing half-written is left.\n']);
  expect(bench.names()).toEqual(before);
});
