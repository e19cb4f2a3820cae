/** Books that were opened lately, and the roster and ensemble that were open beside each. */
import { stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { z } from 'zod';
import { good, type Result } from '../../../core/base/issue.js';
import type { Beside, RecentBook } from '../contract/answers/files.js';
import type { Nothing } from '../contract/questions.js';
import { readOwn, type WriteOwn } from './own-files.js';

const RECENT_LENGTH = 12;
const MOST_BESIDE = 100;

const path = z.string().max(4096);
const recentShape = z.array(path).max(100);
const besideShape = z.record(z.string(), z.object({ roster: path.optional(), ensemble: path.optional() }));

const isThere = (file: string): Promise<boolean> =>
  stat(file).then(
    () => true,
    () => false,
  );

export function recentBooks(folder: string, writeOwn: WriteOwn) {
  const recentFile = join(folder, 'recent.json');
  const besideFile = join(folder, 'beside.json');

  return {
    async remember(book: string): Promise<void> {
      const before = (await readOwn(recentFile, recentShape)) ?? [];
      await writeOwn(recentFile, [book, ...before.filter((it) => it !== book)].slice(0, RECENT_LENGTH));
    },

    async recent(): Promise<Result<readonly RecentBook[]>> {
      const books = (await readOwn(recentFile, recentShape)) ?? [];
      const there = await Promise.all(books.map(isThere));
      return good(books.filter((_, i) => there[i]).map((book) => ({ path: book, name: basename(book), folder: dirname(book) })));
    },

    /** Which roster and ensemble were open beside a book. */
    async companionsOf(book: string): Promise<Beside> {
      return (await readOwn(besideFile, besideShape))?.[book] ?? {};
    },

    async rememberCompanions(book: string, beside: Beside): Promise<Result<Nothing>> {
      const before = Object.entries((await readOwn(besideFile, besideShape)) ?? {}).filter(([other]) => other !== book);
      return writeOwn(besideFile, Object.fromEntries([[book, beside], ...before].slice(0, MOST_BESIDE)));
    },
  };
}
