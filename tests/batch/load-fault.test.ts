/** A thread whose modules cannot be loaded says why; a thread that breaks down amid its work does not repeat what it read. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { failureLine } from '../../core/base/failure-line.js';
import { runBatch } from '../../core/batch/batch.js';
import { JobFailure, NoThread } from '../../core/batch/job-failure.js';
import { withPictures } from '../../core/batch/pictures.js';
import { openPool, type Pool } from '../../core/batch/pool.js';
import type { Context, Job } from '../../core/batch/work.js';
import { book } from '../people/class.js';

const context: Context = { kind: 'editions', book };
const job: Job = { kind: 'summary' };
const never = new AbortController().signal;

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'twelvefold-load-'));
  writeFileSync(join(folder, 'table.mjs'), `throw new RangeError('The row of the ocarina has no range.\\nAnd more.');\n`);
  writeFileSync(join(folder, 'broken.mjs'), `import './table.mjs';\n`);
  const amid = `parentPort.on('message', () => { throw new TypeError('Zephyrine Oakley'); });`;
  writeFileSync(
    join(folder, 'breaks.mjs'),
    `import { parentPort } from 'node:worker_threads';\n${amid}\nparentPort.postMessage({ kind: 'ready' });\n`,
  );
});
afterAll(() => rmSync(folder, { recursive: true }));

const starting = (script: string) => () => new Worker(pathToFileURL(join(folder, script)));

async function failureOf(work: (pool: Pool) => Promise<unknown>, script: string): Promise<unknown> {
  const pool = openPool(context, 1, never, starting(script));
  try {
    return await work(pool).then(
      () => undefined,
      (failure) => failure,
    );
  } finally {
    await pool.close();
  }
}

const REASON = 'RangeError: The row of the ocarina has no range.';

describe('a thread whose modules cannot be loaded', () => {
  it('is told with its reason, and counts as one that did not start', async () => {
    const failure = await failureOf((pool) => pool.run(job), 'broken.mjs');
    expect(failure).toBeInstanceOf(NoThread);
    expect(failure).toHaveProperty('message', `the thread did not start: ${REASON}`);
  });

  it('stands with its reason in what is told of the file', async () => {
    const pool = openPool(context, 1, never, starting('broken.mjs'));
    const output = { job, file: 'none.pdf', label: 'Flute' };
    const [result] = await runBatch([output], pool, folder, never, { onProgress: () => undefined });
    await pool.close();
    expect(result?.issues.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^Flute was not written .*: the thread did not start: /),
    ]);
    expect(result?.issues[0]?.message.endsWith(REASON)).toBe(true);
  });

  it('is told with its reason when it should paint pictures', async () => {
    const work = withPictures(1, never, (ask) => ask('<svg/>', 10), starting('broken.mjs'));
    await expect(work).rejects.toThrow(`a thread that paints pictures did not start: ${REASON}`);
  });
});

it('a thread that breaks down amid its work does not repeat what it read', async () => {
  const failure = await failureOf((pool) => pool.run(job), 'breaks.mjs');
  expect(failure).toBeInstanceOf(JobFailure);
  expect(failure).not.toBeInstanceOf(NoThread);
  expect(failure).toHaveProperty('message', 'the thread broke down: TypeError');
});

it.each([
  ['a failure with its name', new TypeError('x is no function'), 'TypeError: x is no function'],
  ['its first line', new Error('one\ntwo'), 'Error: one'],
  ['what is no failure', 'a word', 'a word'],
])('a failure in one line is %s', (_name, failure, line) => expect(failureLine(failure)).toBe(line));
