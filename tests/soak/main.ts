/**
 * The long run: `npm run soak`, an hour or so. `npm run soak -- --books 1000 --files 500 --kills 20 --seed 7` is a shorter
 * one; 0 leaves a part out. Not part of the tests, which do the same in small. Ends with 1 when there was a fault.
 */
import { parseArgs } from 'node:util';
import { soakAudit } from './audit.js';
import { soakBooks } from './books.js';
import { soakFullDisks, soakKills } from './kills.js';
import { soakMutations } from './mutations.js';
import { figures, memory } from './table.js';

const { values } = parseArgs({
  options: {
    books: { type: 'string', default: '10000' },
    files: { type: 'string', default: '5000' },
    kills: { type: 'string', default: '200' },
    seed: { type: 'string', default: '1' },
  },
});
const number = (name: keyof typeof values): number => {
  const value = Number(values[name]);
  if (!Number.isSafeInteger(value) || value < 0) throw new Error(`--${name} ${values[name]} is not a whole number`);
  return value;
};
const [books, files, kills, seed] = [number('books'), number('files'), number('kills'), number('seed')];

const told = figures();
const start = performance.now();
process.stdout.write(`Long run, seed ${seed}\n`);
if (files > 0) await soakMutations(files, seed, told);
if (kills > 0) await soakKills(kills, seed, told);
if (kills > 0) await soakFullDisks(told);
if (books > 0) await soakBooks(books, seed, told);
soakAudit(told);
told.tell('memory at the end', `${memory()} MB`);
told.tell('time', `${((performance.now() - start) / 60_000).toFixed(1)} min`);
process.stdout.write(told.faults.length === 0 ? 'No fault.\n' : `${told.faults.length} faults.\n`);
process.exitCode = told.faults.length === 0 ? 0 : 1;
