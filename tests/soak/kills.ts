/** Kill −9 at random moments, and disks that are full. */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { run } from '../../core/cli/main.js';
import { fileIssue, writeTextSafely } from '../../core/disk/files.js';
import { smallBook } from '../book/small-book.js';
import { smallDisk } from '../safety/disk.js';
import { type Kind, killed } from '../safety/kill.js';
import { type Figures, progress } from './table.js';

/** Milliseconds after the first file within which the blow comes: a few rounds of each kind. */
const WITHIN: Readonly<Record<Kind, number>> = { save: 120, build: 2_500, recovery: 60 };

export async function soakKills(count: number, seed: number, { tell, fault }: Figures): Promise<void> {
  const show = progress('kills', count);
  const shares = fc.sample(fc.noBias(fc.nat(999)), { numRuns: count, seed });
  const kinds: readonly Kind[] = ['save', 'build', 'recovery'];
  const strays: Record<Kind, number> = { save: 0, build: 0, recovery: 0 };
  for (const [n, share] of shares.entries()) {
    show(n);
    const kind = kinds[n % kinds.length] as Kind;
    const after = (WITHIN[kind] * share) / 1000;
    try {
      const { faults, stray } = await killed(kind, after);
      strays[kind] += stray;
      for (const words of faults) fault(`killed in ${kind} after ${after.toFixed(1)} ms: ${words}`);
    } catch (failure) {
      fault(`killed in ${kind} after ${after.toFixed(1)} ms: ${failure instanceof Error ? failure.message : String(failure)}`);
    }
  }
  tell('kills in saves, builds and recovery copies', count);
  tell('temporary files left, cleared by the next start', kinds.map((kind) => `${strays[kind]} in ${kind}`).join(', '));
}

/** Disks from nearly nothing upwards, until a save and a build fit: below that a sentence, and the old files whole. */
export async function soakFullDisks({ tell, fault }: Figures): Promise<void> {
  const sizes = [16, 32, 64, 96, 128, 192, 256, 512, 1024];
  let [full, fits] = [0, 0];
  for (const kilobytes of sizes) {
    const disk = smallDisk(kilobytes);
    if (!disk) {
      tell('full disks', 'left out: this user may not mount a small disk');
      return;
    }
    try {
      writeFileSync(join(disk.folder, 'old'), 'old');
      const refused = await writeTextSafely(join(disk.folder, 'old'), 'x'.repeat(100_000)).then(
        () => undefined,
        (failure: unknown) => fileIssue(failure, 'old')?.code,
      );
      if (refused !== undefined && refused !== 'file-enospc') fault(`a full disk of ${kilobytes} KB is called ${refused}`);
      const kept = readFileSync(join(disk.folder, 'old'), 'utf8');
      if (kept !== 'old' && kept.length !== 100_000) fault(`on a full disk of ${kilobytes} KB the old file is spoiled`);
      if (refused && kept !== 'old') fault(`on a full disk of ${kilobytes} KB the old file is gone`);
      writeFileSync(join(disk.folder, 'old'), 'old');
      const book = join(disk.folder, 'book.twelvefold');
      writeFileSync(book, JSON.stringify(smallBook()));
      let err = '';
      mkdirSync(join(disk.folder, 'out'));
      const code = await run(['build', book, '--out', 'out'], {
        out: () => {},
        err: (text) => {
          err += text;
        },
        cwd: disk.folder,
        watched: false,
        signal: new AbortController().signal,
        today: '2026-03-01',
      });
      const written = readdirSync(join(disk.folder, 'out'));
      if (code === 0 ? written.length !== 1 : written.length !== 0) fault(`a build on a disk of ${kilobytes} KB leaves ${written.join()}`);
      if (code !== 0 && !/The disk of ".*" is full; make room or choose another folder\./.test(err))
        fault(`a full disk of ${kilobytes} KB: ${err}`);
      if (code === 0) fits++;
      else full++;
    } finally {
      disk.remove();
    }
  }
  tell('full disks', `${full} builds told of it and left nothing, ${fits} fitted`);
}
