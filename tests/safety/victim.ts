/** A program to be killed: saves, builds or keeps recovery copies for ever, in the folder that it is given. */
import { join } from 'node:path';
import { run } from '../../core/cli/main.js';
import { writeTextSafely } from '../../core/disk/files.js';
import { booksOnDisk } from '../../electron/services/disk/books.js';
import { smallBook } from '../book/small-book.js';
import { BOOKS, type Kind, saved } from './kill.js';

const [kind, folder] = process.argv.slice(2) as [Kind, string];

const quiet = { out: () => {}, err: () => {}, cwd: folder, watched: false, signal: new AbortController().signal, today: '2026-03-01' };

const rounds: Readonly<Record<Kind, (n: number) => Promise<unknown>>> = {
  save: (n) => writeTextSafely(join(folder, 'file'), saved(n)),
  build: (n) => run(['build', BOOKS[n % 2] as string, '--out', 'out'], quiet),
  recovery: (n) =>
    booksOnDisk({ folder, demo: '', now: () => `2026-03-01T00:00:${String(n % 60).padStart(2, '0')}Z` }).keepRecovery({
      document: 'document-1',
      source: { ...smallBook(), title: `Edit ${n}` } as never,
      name: 'book.twelvefold',
    }),
};

for (let n = 0; ; n++) {
  await rounds[kind](n);
  // The first round is whole, so that there is an old file when the blow comes.
  if (n === 0) process.stdout.write('ready\n');
}
