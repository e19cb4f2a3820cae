import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type BatchProgress, type Output, type OutputResult, runBatch } from '../../core/batch/batch.js';
import { openPool } from '../../core/batch/pool.js';
import { doJob } from '../../core/batch/work.js';
import type { EditionSpec } from '../../core/book/book.js';
import { installedFonts } from '../../core/disk/fonts.js';
import { openFonts } from '../../core/engrave/metrics.js';
import { demoBook } from '../ensemble/band.js';

const book = demoBook('small-wheels');
const context = { kind: 'editions', book } as const;
const outputs = book.editions.map((spec, i): Output => ({ job: { kind: 'edition', spec }, file: `${i}.pdf`, label: spec.instrument }));

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'twelvefold-editions-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

async function make(
  list: readonly Output[],
  threads: number,
): Promise<{ results: OutputResult[]; told: BatchProgress[]; order: number[] }> {
  const { signal } = new AbortController();
  const pool = openPool(context, threads, signal);
  const told: BatchProgress[] = [];
  const order: number[] = [];
  try {
    const results = await runBatch(list, pool, folder, signal, {
      onProgress: (progress) => told.push(progress),
      onResult: (_, index) => order.push(index),
    });
    return { results, told, order };
  } finally {
    await pool.close();
  }
}

const bytesOf = (): Buffer[] =>
  readdirSync(folder)
    .sort()
    .map((name) => readFileSync(join(folder, name)));

describe('editions on threads', () => {
  it('have the bytes of one thread, and of fonts that nothing else was set with', async () => {
    const { results, order } = await make(outputs, 2);
    const byTwo = bytesOf();
    expect(order).toEqual(outputs.map((_, i) => i));
    expect(results.map(({ proof }) => proof?.edition)).toEqual(outputs.map(({ label }) => label));
    // In the other order on one thread, so that its fonts have seen other texts before.
    await make([...outputs].reverse(), 1);
    expect(bytesOf().map((bytes, i) => bytes.equals(byTwo[i] as Buffer))).toEqual(outputs.map(() => true));
    const fresh = openFonts(installedFonts());
    const spec = book.editions[1] as EditionSpec;
    const alone = await doJob(context, { kind: 'edition', spec }, fresh, () => {});
    expect(Buffer.from(alone.bytes as Uint8Array).equals(byTwo[1] as Buffer)).toBe(true);
  });

  it('are told of one by one when one fails, in the order of the list', async () => {
    const broken = { ...(book.editions[0] as EditionSpec), breath: undefined } as unknown as EditionSpec;
    const list: Output[] = [{ job: { kind: 'edition', spec: broken }, file: 'none.pdf', label: 'broken' }, ...outputs.slice(0, 2)];
    const { results, told, order } = await make(list, 2);
    expect(results.map(({ file }) => file)).toEqual([undefined, '0.pdf', '1.pdf']);
    expect(results.map(({ issues }) => issues.map(({ code }) => code))).toEqual([['output-failed'], [], []]);
    expect(order).toEqual([0, 1, 2]);
    expect(readdirSync(folder).sort()).toEqual(['0.pdf', '1.pdf']);
    const steps = new Set(told.flatMap(({ running }) => running.map(({ step }) => step?.step)));
    expect(steps).toEqual(new Set([undefined, 'painting', 'proving']));
    expect(told.at(-1)).toMatchObject({ done: 3, total: 3, running: [] });
    expect(told.some(({ secondsLeft }) => secondsLeft !== undefined && secondsLeft > 0)).toBe(true);
    // Never less done than before.
    expect(told.map(({ done }) => done)).toEqual(told.map(({ done }) => done).sort((a, b) => a - b));
  });
});
