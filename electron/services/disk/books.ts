/** Books on the disk: opened, and saved without loss. */
import { basename } from 'node:path';
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { readBookSource } from '../../../core/book/read.js';
import { checkShape } from '../../../core/book/schema.js';
import { writeJson } from '../../../core/book/write.js';
import { readText } from '../../../core/disk/files.js';
import type { Opened, Saved } from '../contract/answers/files.js';
import { ownWriter } from './own-files.js';
import { pathOfKind } from './paths.js';
import { recentBooks } from './recent-books.js';
import { recoveryCopies } from './recovery.js';
import { MOST_BYTES, queue, type SaveSource, saveText, stampOf } from './text-files.js';

export async function readBook(path: string): Promise<Result<Opened>> {
  const text = await readText(path, MOST_BYTES, basename(path));
  if (!text.ok) return text;
  const source = readBookSource(text.value);
  if (!source.ok) return source;
  return good({ source: source.value, path, name: basename(path), stamp: stampOf(text.value) }, source.issues);
}

export type BooksOnDisk = ReturnType<typeof booksOnDisk>;

/** `folder`: of the program's own files; `demo`: path of the demo book; `now` gives the ISO time of a recovery copy. */
export function booksOnDisk({ folder, demo, now }: { folder: string; demo: string; now: () => string }) {
  const inTurn = queue();
  const writeOwn = ownWriter(inTurn);
  const recent = recentBooks(folder, writeOwn);

  async function open(path: string): Promise<Result<Opened>> {
    const full = pathOfKind(path, 'book');
    if (!full.ok) return full;
    const opened = await readBook(full.value);
    if (opened.ok) await recent.remember(full.value);
    return opened;
  }

  async function openDemo(): Promise<Result<Opened>> {
    const opened = await readBook(demo);
    return opened.ok ? good({ ...opened.value, path: undefined, stamp: undefined }, opened.issues) : opened;
  }

  async function save({ source, path: given, stamp, force }: SaveSource): Promise<Result<Saved>> {
    const full = pathOfKind(given, 'book');
    if (!full.ok) return full;
    const path = full.value;
    // Nothing is written that could not be opened again.
    const shape = checkShape(source);
    if (!shape.ok)
      return bad(error('not-saveable', [], `The book cannot be saved as it stands: ${shape.issues[0]?.message ?? ''}`), ...shape.issues);
    return inTurn(async () => {
      const saved = await saveText({ path, text: writeJson(source), stamp, force });
      // Not awaited: it waits for its turn behind this save.
      if (saved.ok) void recent.remember(path);
      return saved;
    });
  }

  return { open, openDemo, save, ...recent, ...recoveryCopies(folder, now, inTurn, writeOwn), writeOwn };
}
