/** Damaged files in great number, and files as large as can be: time, memory and clearness of each answer. */
import { closeSync, ftruncateSync, mkdtempSync, openSync, readdirSync, rmSync, statSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { MAX_LENGTH } from '../../core/book/json.js';
import { complaint, mutated, mutation } from '../safety/mutate.js';
import { answerTo, type Target, targets } from '../safety/targets.js';
import { type Figures, memory, progress } from './table.js';

/** Seconds of the processor in which a file is read or refused: on an idle machine no less than by the clock. */
const LIMIT = 1;

/** Megabytes that reading any file may add. */
const MOST_MEMORY = 600;

type Answer = { readonly seconds: number; readonly ok: boolean };

async function answer(target: Target, path: string, what: string, { fault }: Figures): Promise<Answer> {
  const before = { size: statSync(path).size, changed: statSync(path).mtimeMs };
  const start = process.cpuUsage();
  let ok = false;
  try {
    const given = await answerTo(target, path);
    ok = given.ok;
    const wrong = complaint(given);
    if (wrong) fault(`${target.name}, ${what}: ${wrong}`);
  } catch (failure) {
    fault(`${target.name}, ${what}: ${failure instanceof Error ? failure.message.slice(0, 200) : String(failure)}`);
  }
  const { user, system } = process.cpuUsage(start);
  const seconds = (user + system) / 1_000_000;
  if (seconds > LIMIT) fault(`${target.name}, ${what}: took ${seconds.toFixed(1)} s`);
  const after = statSync(path);
  if (after.size !== before.size || after.mtimeMs !== before.changed) fault(`${target.name}, ${what}: the file was changed`);
  return { seconds, ok };
}

/** Files that are too large, most of them by far; `fill` writes into an open file. */
const LARGE: readonly [name: string, fill: (file: number) => void][] = [
  ['100 MB of nothing', (file) => ftruncateSync(file, 100 * 1024 * 1024)],
  ['10 GB of nothing', (file) => ftruncateSync(file, 10 * 1024 ** 3)],
  ['100 MB of brackets', (file) => repeat(file, '{"a":[', 100)],
  ['100 MB of one text', (file) => repeat(file, 'xxxxxxxx', 100, '{"title":"')],
  ['as long as is read: brackets', (file) => void writeSync(file, `{"a":${'['.repeat(MAX_LENGTH - 10)}`)],
  ['as long as is read: one text', (file) => void writeSync(file, `{"a":"${'x'.repeat(MAX_LENGTH - 10)}"}`)],
  ['as long as is read: three bytes a letter', (file) => void writeSync(file, `{"a":"${'\u20ac'.repeat(MAX_LENGTH - 10)}"}`)],
  ['as long as is read: numbers', (file) => void writeSync(file, `{"a":[${'0,'.repeat(MAX_LENGTH / 2 - 10)}0]}`)],
  ['as long as is read: empty lines', (file) => void writeSync(file, `{${'\n'.repeat(MAX_LENGTH - 10)}}`)],
  ['as long as is read: escapes', (file) => void writeSync(file, `{"a":"${'\\u0041'.repeat(MAX_LENGTH / 6 - 10)}"}`)],
  ['as long as is read: names', (file) => void writeSync(file, `{${Array.from({ length: 250_000 }, (_, i) => `"name${i}":0`).join(',')}}`)],
];

function repeat(file: number, text: string, megabytes: number, before = ''): void {
  writeSync(file, before);
  const block = text.repeat(Math.ceil((1024 * 1024) / text.length));
  for (let i = 0; i < megabytes; i++) writeSync(file, block);
}

export async function soakMutations(count: number, seed: number, figures: Figures): Promise<void> {
  const { tell, fault } = figures;
  const folder = mkdtempSync(join(tmpdir(), 'twelvefold-soak-'));
  const all = targets();
  const start = memory();
  let [slowest, loaded, peak] = [0, 0, 0];
  const show = progress('damaged files', count);
  const damages = fc.sample(fc.tuple(mutation, fc.noBias(fc.nat(99)), fc.noBias(fc.nat(99))), { numRuns: count, seed });
  for (const [n, [damage, kind, which]] of damages.entries()) {
    // Books are half of the files.
    const target = all[kind < 50 ? 0 : 1 + (kind % (all.length - 1))] as Target;
    const path = join(folder, 'file');
    writeFileSync(path, mutated(target.files[which % target.files.length] as string, damage));
    const { seconds, ok } = await answer(target, path, JSON.stringify(damage).slice(0, 120), figures);
    slowest = Math.max(slowest, seconds);
    peak = Math.max(peak, memory());
    if (ok) loaded++;
    show(n);
  }
  tell('damaged files', `${count}: ${loaded} loaded, ${count - loaded} refused with a reason`);
  tell('slowest answer to a damaged file', `${(slowest * 1000).toFixed(0)} ms`);
  slowest = 0;
  for (const target of all) {
    for (const [name, fill] of LARGE) {
      const path = join(folder, 'file');
      rmSync(path, { force: true });
      const file = openSync(path, 'w');
      fill(file);
      closeSync(file);
      slowest = Math.max(slowest, (await answer(target, path, name, figures)).seconds);
      peak = Math.max(peak, memory());
    }
  }
  tell('slowest answer to a very large file', `${(slowest * 1000).toFixed(0)} ms`);
  tell('memory: at the start, at the most', `${start} MB, ${peak} MB`);
  if (peak - start > MOST_MEMORY) fault(`reading damaged files took ${peak - start} MB`);
  if (readdirSync(folder).join() !== 'file') fault('reading left files behind');
  rmSync(folder, { recursive: true });
}
