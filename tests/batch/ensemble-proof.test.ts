/** The parts of an ensemble, proved where they are written. */
import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { JobFailure } from '../../core/batch/job-failure.js';
import { partProofs } from '../../core/batch/make-ensemble.js';
import type { Pool } from '../../core/batch/pool.js';
import { type Done, doJob } from '../../core/batch/work.js';
import type { ExerciseLayout } from '../../core/build/ensemble-layout.js';
import { tellResults } from '../../core/cli/batch.js';
import { EXIT, type Terminal } from '../../core/cli/terminal.js';
import { ensembleBookOf } from '../../core/ensemble/ensemble-book.js';
import { faultOf, finding } from '../../core/proof/fault.js';
import type { Proof } from '../../core/proof/proof.js';
import { HALF_SPACE } from '../../core/proof/rules/glyphs.js';
import { workbench } from '../cli/run.js';
import { band, bandFile, demoBook } from '../ensemble/band.js';
import { laidOut } from '../ensemble/laid-out.js';
import { testFonts } from '../fonts.js';

const fonts = testFonts();
const book = demoBook('small-wheels');
const ensemble = band(book, 'flute tuba', { level: 'beginner', misfit: 'hold-root', breathing: { plan: 'together', tempo: 92 } });
const layouts = laidOut(ensembleBookOf(book, ensemble));

const prove = (of: readonly ExerciseLayout[]): Promise<Done> =>
  doJob({ kind: 'ensemble', book, ensemble }, { kind: 'parts-proof', layouts: of }, fonts, () => {});
const poolThat = (run: Pool['run']): Pool => ({ run, close: async () => {} });

describe('the job', () => {
  it('proves every part', async () => {
    const { ok, proofs, bytes } = await prove(layouts);
    expect({ ok, bytes }).toEqual({ ok: true, bytes: undefined });
    expect(proofs?.map(({ edition, faults }) => [edition, faults])).toEqual([
      ['Flute', []],
      ['Tuba', []],
    ]);
  });

  it('finds what is broken: a copy without its breaths runs out of air', async () => {
    const breathless = layouts.map((layout): ExerciseLayout => {
      const parts = layout.parts.map((part) => {
        const copies = part.copies.map((copy) => (copy.breathing ? { ...copy, breathing: { ...copy.breathing, marks: [] } } : copy));
        return part.chair === 'flute' ? { ...part, copies } : part;
      });
      return { ...layout, parts };
    });
    const [flute, tuba] = (await prove(breathless)).proofs ?? [];
    expect(flute?.faults.map(({ rule }) => rule)).toContain(24);
    expect(tuba?.faults).toEqual([]);
  });
});

describe('on a pool', () => {
  it('what fails is told, and stops nothing else', async () => {
    const failed = await partProofs(
      poolThat(() => Promise.reject(new JobFailure('TypeError at rule'))),
      layouts,
    );
    expect(failed.issues.map(({ message }) => message).join()).toMatch(
      /^The parts were not proved because of a fault .* TypeError at rule$/,
    );
  });

  it('a wish to stop is passed on', async () => {
    const stopped = new Error('stopped');
    await expect(
      partProofs(
        poolThat(() => Promise.reject(stopped)),
        layouts,
      ),
    ).rejects.toBe(stopped);
  });
});

describe('twelvefold ensemble --prove', () => {
  const bench = workbench();
  bench.write('book.twelvefold', readFileSync('assets/books/small-wheels.twelvefold', 'utf8'));
  bench.write('two.ensemble', bandFile('flute tuba', { level: 'beginner', misfit: 'hold-root' }));
  bench.write('one.ensemble', bandFile('flute'));
  const run = (...more: string[]) => bench.run(['ensemble', 'book.twelvefold', 'two.ensemble', '--out', 'out/of/it', ...more]);
  afterAll(bench.clear);

  it('tells of each part that it is proved, and nothing of the score', async () => {
    const { code, out } = await run('--prove');
    expect(code).toBe(EXIT.ok);
    const lines = out.trim().split('\n');
    expect(lines.map((line) => / pages, proved\)$/.test(line))).toEqual([false, true, true, false]);
    expect(bench.names().filter((name) => name.endsWith('.pdf')).length).toBe(3);
  });

  it('says nothing of a proof that was not asked for', async () => {
    const { code, out } = await run('--json');
    expect(code).toBe(EXIT.ok);
    expect(JSON.parse(out).outputs.map((one: object) => 'proof' in one)).toEqual([false, false, false]);
  });

  it('leaves no folder where nothing was written', async () => {
    expect((await bench.run(['ensemble', 'book.twelvefold', 'one.ensemble', '--out', 'none'])).code).toBe(EXIT.mistakes);
    expect(bench.names()).not.toContain('none');
  });
});

it('a fault is told with its place, the file is kept, and the exit code says so', () => {
  const proof: Proof = {
    edition: 'Flute',
    pages: 3,
    faults: [faultOf(HALF_SPACE, finding({ page: '2', exercise: 'last-wheel', system: 0, bar: 4 }, 'Two heads touch.'))],
    checked: { [HALF_SPACE.number]: 1 },
  };
  const out: string[] = [];
  const err: string[] = [];
  const terminal: Terminal = {
    out: (text) => void out.push(text),
    err: (text) => void err.push(text),
    cwd: '.',
    watched: false,
    signal: new AbortController().signal,
    today: '2026-03-31',
  };
  const result = { label: 'Flute', file: 'flute.pdf', pages: 3, issues: [], proof };
  const tell = (more: object) => tellResults([result], [], 'file', terminal, { files: true, ...more });
  expect(tell({})).toBe(EXIT.proofFaults);
  expect(out.join('')).toContain('Wrote flute.pdf (3 pages, 1 proof fault)');
  expect(err.join('')).toContain('page 2, exercise last-wheel, system 1, bar 4: Two heads touch.');
  out.length = 0;
  expect(tell({ json: true })).toBe(EXIT.proofFaults);
  expect(JSON.parse(out.join(''))).toMatchObject({ ok: true, outputs: [{ proof: { edition: 'Flute', pages: 3 } }] });
});
