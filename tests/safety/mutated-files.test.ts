/** Damaged books, ensembles and rosters: each is read, or refused with a reason that a person can use; and nothing is written. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MAX_VALUES } from '../../core/book/json.js';
import { readBook } from '../../core/book/read.js';
import { smallBook } from '../book/small-book.js';
import { workbench } from '../cli/run.js';
import { complaint, mutated, mutation } from './mutate.js';
import { answerTo, targets } from './targets.js';

const EACH = 160;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'twelvefold-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const all = targets();
const kinds = { 'not-text': 0, 'file-cut-short': 0, 'not-json': 0, 'forbidden-field': 0, 'too-deep': 0, 'wrong-field': 0 };

describe.each(all.map((target) => [target.name, target] as const))('%s', (name, target) => {
  it('as it stands is read', async () => {
    expect(target.files.length).toBeGreaterThan(0);
    for (const text of target.files) expect(complaint(target.read(text))).toBeUndefined();
  });

  it(`damaged in ${EACH} ways`, async () => {
    const damages = fc.sample(fc.tuple(mutation, fc.nat(target.files.length - 1)), { numRuns: EACH, seed: 90210 + name.length });
    const path = join(folder, name);
    let refused = 0;
    for (const [damage, i] of damages) {
      const bytes = mutated(target.files[i] as string, damage);
      writeFileSync(path, bytes);
      const answer = await answerTo(target, path);
      expect(complaint(answer), JSON.stringify(damage).slice(0, 300)).toBeUndefined();
      if (!answer.ok) refused++;
      for (const { code } of answer.issues) if (Object.hasOwn(kinds, code)) kinds[code as keyof typeof kinds]++;
      expect(readFileSync(path).equals(bytes)).toBe(true);
    }
    expect(readdirSync(folder)).toEqual([name]);
    rmSync(path);
    expect(refused).toBeGreaterThan(EACH / 4);
  });
});

it('and the damages are of many kinds', () => {
  expect(Object.entries(kinds).filter(([, count]) => count === 0)).toEqual([]);
});

describe('files made to take long', () => {
  const base = { format: 'twelvefold', version: 1, title: 'A', date: '2026-03-01', editions: ['flute'] };
  const chapters = (count: number, exercise: object) =>
    Array.from({ length: count / 1000 }, () => ({ title: 'a', exercises: Array(1000).fill(exercise) }));
  const one = [{ title: 'a', exercises: [{ figure: '1 2 3' }] }];

  it.each<[name: string, file: object, ok: boolean, code: string]>([
    ['more values than any book', { ...base, chapters: Array(MAX_VALUES).fill(0) }, false, 'too-many-values'],
    ['more exercises than any book', { ...base, chapters: chapters(12_000, { figure: '1 2 3' }) }, false, 'too-many-exercises'],
    [
      'many unknown fields',
      { ...base, chapters: one, ...Object.fromEntries(Array.from({ length: 40_000 }, (_, i) => [`k${i}`, 0])) },
      true,
      'unknown-field',
    ],
    ['an unknown field in many places', { ...base, chapters: chapters(9000, { figure: '1', dirextions: 'up' }) }, true, 'unknown-field'],
    ['a wrong figure in many places', { ...base, chapters: chapters(9000, { figure: 'x x' }) }, false, 'figure-unknown-character'],
    ['a wrong word in many places', { ...base, chapters: chapters(9000, { figure: '1', directions: 'upp' }) }, false, 'wrong-field'],
    ['one id in many places', { ...base, chapters: chapters(9000, { id: 'a', figure: '1' }) }, false, 'id-twice'],
    ['many ways to play', { ...base, defaults: { variants: Array(1000).fill('slur 2') }, chapters: one }, false, 'wrong-field'],
    ['a field name of a million letters', { ...base, chapters: one, ['x'.repeat(1_000_000)]: 0 }, true, 'unknown-field'],
  ])('%s', (_, file, ok, code) => {
    const answer = readBook(JSON.stringify(file));
    expect([answer.ok, answer.issues[0]?.code]).toEqual([ok, code]);
    expect(complaint(answer)).toBeUndefined();
    if (answer.issues.length > 500) expect(answer.issues.at(-1)).toMatchObject({ code: 'more-faults', severity: 'note' });
  });

  it('unknown fields are left out one and all', () => {
    const file = { ...base, chapters: [{ title: 'a', zz: 1, exercises: [{ figure: '1 2', aa: 1, bb: { cc: 1 } }] }], yy: [1], xx: 2 };
    const answer = readBook(JSON.stringify(file));
    expect(answer.issues.map((issue) => issue.path.join('.')).sort()).toEqual([
      'chapters.0.exercises.0.aa',
      'chapters.0.exercises.0.bb',
      'chapters.0.zz',
      'xx',
      'yy',
    ]);
    expect(answer.ok).toBe(true);
  });
});

describe('on the command line', () => {
  it('nothing steers the terminal, nothing is written, and no fault is called one of the program', async () => {
    const bench = workbench();
    const book = JSON.stringify(smallBook());
    for (const damage of fc.sample(mutation, { numRuns: 40, seed: 5 })) {
      writeFileSync(join(bench.folder, 'book.twelvefold'), mutated(book, damage));
      const { code, out, err } = await bench.run(['check', 'book.twelvefold']);
      expect([0, 1]).toContain(code);
      expect(`${out}${err}`).not.toMatch(/[^\P{Cc}\n]/u);
      expect(bench.names()).toEqual(['book.twelvefold']);
    }
    bench.clear();
  });

  it('an unknown field with signs that steer a terminal is shown without them', async () => {
    const bench = workbench();
    bench.write('book.twelvefold', JSON.stringify({ ...smallBook(), '\u001b[2J\nerror: x\u009b31m': 1 }));
    const { err } = await bench.run(['check', 'book.twelvefold']);
    expect(err).toContain('\ufffd[2J\ufffderror: x\ufffd31m');
    expect(err).not.toMatch(/[^\P{Cc}\n]/u);
    bench.clear();
  });
});

it('a complaint is made of an answer that nobody can use', () => {
  const issue = (message: string, severity = 'error') => ({ ok: false, issues: [{ severity, message, code: 'some-code' }] });
  expect(complaint(issue('The title is too long; make it shorter.'))).toBeUndefined();
  for (const message of ['x', 'Cannot read properties of undefined (reading 0).', 'Wrong: [object Object].', 'Escape \u001b[2J is here.'])
    expect(complaint(issue(message))).toContain('some-code');
  expect(complaint(issue('The title is too long; make it shorter.', 'warning'))).toBe('refused without an error');
  expect(complaint({ ...issue('The title is too long; make it shorter.'), ok: true })).toBe('loaded with an error');
});
