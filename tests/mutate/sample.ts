/** A seeded sample of faults, spread evenly over the folders of the core. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Mutant, mutantsOf } from './mutants.js';

/** Numbers in [0, 1): the mulberry32 generator (T. Ettinger, public domain). */
export function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** The items in a random order. */
function shuffled<T>(items: readonly T[], random: () => number): T[] {
  const mixed = [...items];
  for (let i = mixed.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [mixed[i], mixed[j]] = [mixed[j] as T, mixed[i] as T];
  }
  return mixed;
}

const filesUnder = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => join(folder, name))
    .sort();

/** The folders of the core. */
export const coreFolders = (): string[] =>
  readdirSync('core', { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort();

/** Turn and turn about: a random fault of each folder, no fault twice, until none is left. */
export function* rounds(folders: readonly string[], seed: number): Generator<readonly Mutant[]> {
  const random = randomNumbers(seed);
  const queues = folders.map((folder) =>
    shuffled(
      filesUnder(join('core', folder)).flatMap((file) => mutantsOf(file, readFileSync(file, 'utf8'))),
      random,
    ),
  );
  while (queues.some((queue) => queue.length > 0)) yield queues.flatMap((queue) => queue.pop() ?? []);
}
