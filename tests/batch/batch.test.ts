import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type BatchProgress, type Output, progressWords, runBatch, secondsLeft, timeLeftWords } from '../../core/batch/batch.js';
import { openPool, type Pool } from '../../core/batch/pool.js';
import { buildBooklet } from '../../core/build/booklets.js';
import { bookletStems } from '../../core/people/booklet-names.js';
import { readRoster } from '../../core/people/read.js';
import { testFonts } from '../fonts.js';
import { pdfOf } from '../output/read-pdf.js';
import { book, rosterFile, student } from '../people/class.js';
import { value } from '../player/fixture.js';

const names = ['A', 'B', 'C', 'D', 'E', 'F'];
const students = names.map((name, i) => student({ name, ...(i === 2 ? { keys: ['B'] } : {}) }));
const roster = value(readRoster(JSON.stringify(rosterFile(students)), book));
const context = { kind: 'booklets' as const, book, roster, date: '2026-03-31' };
const outputs = bookletStems(book, roster).map(
  (stem, i): Output => ({ job: { kind: 'booklet', student: i }, file: `${stem}.pdf`, label: `booklet ${i + 1}` }),
);

let folder: string;
let stop: AbortController;
let pool: Pool;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'twelvefold-batch-'));
  stop = new AbortController();
  pool = openPool(context, 2, stop.signal);
});
afterEach(async () => {
  await pool.close();
  rmSync(folder, { recursive: true });
});

const isWhole = (name: string): boolean => readFileSync(join(folder, name)).toString('latin1').trimEnd().endsWith('%%EOF');

describe('a batch', () => {
  it('makes every file it can, and tells of the others one by one', async () => {
    const broken: Output = { job: { kind: 'booklet', student: 99 }, file: 'none.pdf', label: 'booklet 100' };
    const told: BatchProgress[] = [];
    const results = await runBatch([broken, ...outputs], pool, folder, stop.signal, { onProgress: (progress) => told.push(progress) });
    expect(results.map(({ label, file }) => [label, file])).toEqual([
      ['booklet 100', undefined],
      ...outputs.map(({ label, file }, i) => [label, i === 2 ? undefined : file]),
    ]);
    expect(results.map(({ issues }) => issues.map(({ code }) => code)).filter((codes) => codes.length > 0)).toEqual([
      ['output-failed'],
      ['booklet-empty', 'no-key-left', 'no-key-left'],
    ]);
    expect(readdirSync(folder).sort()).toEqual(results.flatMap(({ file }) => file ?? []).sort());
    expect(readdirSync(folder).every(isWhole)).toBe(true);
    expect(told.at(-1)).toMatchObject({ done: 7, total: 7, running: [] });
    expect(told.some(({ running }) => running.some(({ step }) => step && step.page > 0 && step.pages > 1))).toBe(true);
  });

  it('gives the same bytes as one thread does', async () => {
    await runBatch(outputs.slice(0, 2), pool, folder, stop.signal, { onProgress: () => {} });
    for (const i of [0, 1]) {
      const alone = await pdfOf(value(buildBooklet(book, roster, i, '2026-03-31', testFonts())).document);
      expect(readFileSync(join(folder, (outputs[i] as Output).file)).equals(alone)).toBe(true);
    }
  });

  it('can be stopped, and leaves only whole files', async () => {
    const many = Array.from({ length: 40 }, (_, i): Output => ({ ...(outputs[i % 2] as Output), file: `${i}.pdf` }));
    const work = runBatch(many, pool, folder, stop.signal, {
      onProgress: ({ done }) => {
        if (done >= 3) stop.abort();
      },
    });
    await expect(work).rejects.toThrow(/abort/i);
    const left = readdirSync(folder);
    expect(left.length).toBeLessThan(many.length);
    expect(left.filter((name) => !/^\d+\.pdf$/.test(name))).toEqual([]);
    expect(left.every(isWhole)).toBe(true);
    await expect(pool.run({ kind: 'booklet', student: 0 })).rejects.toThrow(/abort/i);
  });

  it('tells when a file cannot be written', async () => {
    const [result] = await runBatch([{ ...(outputs[0] as Output), file: join('none', 'a.pdf') }], pool, folder, stop.signal, {
      onProgress: () => {},
    });
    expect(result?.issues.map(({ code }) => code)).toEqual(['file-enoent']);
    expect(result?.file).toBeUndefined();
  });
});

describe('the time left', () => {
  it.each([
    [10, 0.5, 10],
    [30, 0.75, 10],
    [10, 1, 0],
    [10, 0.01, undefined],
  ])('after %d s with a share of %d done: %s', (elapsed, share, left) => {
    expect(secondsLeft(elapsed, share)).toBe(left);
  });

  it.each([
    [undefined, ''],
    [0.2, 'about 1 s left'],
    [41.4, 'about 41 s left'],
    [125, 'about 2 min left'],
  ])('%s in words: %s', (seconds, words) => {
    expect(timeLeftWords(seconds)).toBe(words);
  });

  it('stands behind what is being made', () => {
    const running = [
      { label: 'Flute', step: { step: 'painting', page: 3, pages: 14 } as const },
      { label: 'Tuba', step: { step: 'proving', page: 5, pages: 12 } as const },
      { label: 'Oboe' },
    ];
    expect(progressWords({ done: 12, total: 60, running, secondsLeft: 40 })).toBe(
      '12 of 60, Flute: page 3 of 14, Tuba: proving page 5 of 12, Oboe: laying out, about 40 s left',
    );
  });
});
