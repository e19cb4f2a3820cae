/** Books on the disk: opening, saving without loss, copies for recovery, and what was opened lately. */
import { createHash } from 'node:crypto';
import { mkdir, readdir, rm, stat } from 'node:fs/promises';
import { basename, dirname, extname, isAbsolute, join, resolve } from 'node:path';
import { z } from 'zod';
import { MAX_LENGTH } from '../../core/book/json.js';
import { readBookSource } from '../../core/book/read.js';
import { type BookSource, checkShape } from '../../core/book/schema.js';
import { writeBook } from '../../core/book/write.js';
import { fileIssue, readText, writeTextSafely } from '../../core/files.js';
import { bad, error, good, type Issue, type Result } from '../../core/issue.js';
import type { Nothing, Opened, RecentBook, Recovered, Saved } from './contract.js';

export const EXTENSION = '.twelvefold';

const RECENT_LENGTH = 12;

export const stampOf = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 24);

/** Runs one write after another: a save never overtakes another save of the same file. */
function queue(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const next = last.then(work, work);
    last = next.catch(() => undefined);
    return next;
  };
}

/** A path as the user may give it to a book: absolute, a book's ending, no odd characters. */
export function bookPath(path: string): Result<string> {
  if (!isAbsolute(path) || path.includes('\0')) return bad(error('not-a-path', [], 'Choose the file in the list; a whole path is needed.'));
  const full = resolve(path);
  if (extname(full).toLowerCase() === EXTENSION) return good(full);
  return bad(error('not-a-book-name', [], `The name of a book ends in ${EXTENSION}; choose such a file, or add the ending.`));
}

async function caught<T>(path: string, work: () => Promise<Result<T>>): Promise<Result<T>> {
  try {
    return await work();
  } catch (failure) {
    const issue = fileIssue(failure, path);
    if (!issue) throw failure;
    return bad(issue);
  }
}

const recentShape = z.array(z.string().max(4096)).max(100);
const recoveryShape = z.strictObject({
  document: z.string(),
  path: z.string().optional(),
  name: z.string(),
  time: z.string(),
  source: z.looseObject({}),
});

const DOCUMENT_NAME = /^[A-Za-z0-9-]{8,64}$/;
const badDocument = (): Issue => error('unknown-document', [], 'There is no such book in this window; open it again.');

export type BooksOnDisk = ReturnType<typeof booksOnDisk>;

/** `now` gives the ISO time of a recovery copy; `demo` is the path of the demo book. */
export function booksOnDisk({ folder, demo, now }: { folder: string; demo: string; now: () => string }) {
  const inTurn = queue();
  const recentFile = join(folder, 'recent.json');
  const recoveryFolder = join(folder, 'recovery');
  const recoveryFile = (document: string) => join(recoveryFolder, `${document}.json`);

  /** A file of the program's own that is missing or damaged counts as empty. */
  async function readOwn<T>(path: string, shape: z.ZodType<T>): Promise<T | undefined> {
    const text = await readText(path, 3 * MAX_LENGTH);
    if (!text.ok) return undefined;
    try {
      const read = shape.safeParse(JSON.parse(text.value));
      return read.success ? read.data : undefined;
    } catch {
      return undefined;
    }
  }

  async function writeOwn(path: string, value: unknown): Promise<Result<Nothing>> {
    return inTurn(() =>
      caught(path, async () => {
        await mkdir(dirname(path), { recursive: true });
        await writeTextSafely(path, `${JSON.stringify(value, null, 2)}\n`);
        return good({});
      }),
    );
  }

  async function remember(path: string): Promise<void> {
    const before = (await readOwn(recentFile, recentShape)) ?? [];
    await writeOwn(recentFile, [path, ...before.filter((it) => it !== path)].slice(0, RECENT_LENGTH));
  }

  async function read(path: string): Promise<Result<Opened>> {
    const text = await readText(path, 3 * MAX_LENGTH, basename(path));
    if (!text.ok) return text;
    const source = readBookSource(text.value);
    if (!source.ok) return source;
    return good({ source: source.value, path, name: basename(path), stamp: stampOf(text.value) }, source.issues);
  }

  async function open(path: string): Promise<Result<Opened>> {
    const full = bookPath(path);
    if (!full.ok) return full;
    const opened = await read(full.value);
    if (opened.ok) await remember(full.value);
    return opened;
  }

  async function openDemo(): Promise<Result<Opened>> {
    const opened = await read(demo);
    return opened.ok ? good({ ...opened.value, path: undefined, stamp: undefined }, opened.issues) : opened;
  }

  /** What stands at the path now: its stamp, or undefined when there is nothing. */
  async function stampOnDisk(path: string): Promise<string | undefined> {
    const text = await readText(path, 3 * MAX_LENGTH);
    if (text.ok) return stampOf(text.value);
    return text.issues.some((issue) => issue.code === 'file-enoent') ? undefined : 'unreadable';
  }

  async function save(ask: { source: BookSource; path: string; stamp: string | undefined; force: boolean }): Promise<Result<Saved>> {
    const full = bookPath(ask.path);
    if (!full.ok) return full;
    const path = full.value;
    // Nothing is written that could not be opened again.
    const shape = checkShape(ask.source as unknown as { [field: string]: unknown });
    if (!shape.ok)
      return bad(error('not-saveable', [], `The book cannot be saved as it stands: ${shape.issues[0]?.message ?? ''}`), ...shape.issues);
    return inTurn(() =>
      caught(path, async () => {
        const text = writeBook(ask.source);
        const there = await stampOnDisk(path);
        if (!ask.force && there !== undefined && there !== ask.stamp) {
          return bad(
            error(
              'changed-on-disk',
              [],
              `Another program or window changed "${basename(path)}" since you opened it; save over it, or save your book under another name.`,
            ),
          );
        }
        if (!(await stat(dirname(path)).catch(() => undefined))) {
          return bad(error('folder-gone', [], `The folder of "${basename(path)}" is no longer there; save the book in another place.`));
        }
        await writeTextSafely(path, text);
        // Not awaited: it waits for its turn behind this save.
        void remember(path);
        return good({ path, name: basename(path), stamp: stampOf(text) });
      }),
    );
  }

  async function recent(): Promise<Result<readonly RecentBook[]>> {
    const paths = (await readOwn(recentFile, recentShape)) ?? [];
    const there = await Promise.all(
      paths.map((path) =>
        stat(path).then(
          () => true,
          () => false,
        ),
      ),
    );
    return good(paths.filter((_, i) => there[i]).map((path) => ({ path, name: basename(path), folder: dirname(path) })));
  }

  async function keepRecovery(ask: { document: string; source: BookSource; path?: string; name: string }): Promise<Result<Nothing>> {
    if (!DOCUMENT_NAME.test(ask.document)) return bad(badDocument());
    return writeOwn(recoveryFile(ask.document), { ...ask, time: now() });
  }

  async function dropRecovery(document: string): Promise<Result<Nothing>> {
    if (!DOCUMENT_NAME.test(document)) return bad(badDocument());
    return inTurn(async () => {
      await rm(recoveryFile(document), { force: true });
      return good({});
    });
  }

  async function recoveries(): Promise<Result<readonly Recovered[]>> {
    const names = await readdir(recoveryFolder).catch(() => [] as string[]);
    const found: Recovered[] = [];
    for (const name of names.filter((it) => it.endsWith('.json')).sort()) {
      const copy = await readOwn(join(recoveryFolder, name), recoveryShape);
      if (copy) found.push({ document: copy.document, path: copy.path, name: copy.name, time: copy.time });
    }
    return good(found.sort((a, b) => b.time.localeCompare(a.time)));
  }

  async function openRecovery(document: string): Promise<Result<Opened>> {
    if (!DOCUMENT_NAME.test(document)) return bad(badDocument());
    const copy = await readOwn(recoveryFile(document), recoveryShape);
    const shape = copy && checkShape(copy.source);
    if (!copy || !shape?.ok) return bad(error('recovery-damaged', [], 'The recovery copy cannot be read any more; open the book itself.'));
    const stamp = copy.path ? await stampOnDisk(copy.path) : undefined;
    return good({ source: shape.value, path: copy.path, name: copy.name, stamp });
  }

  return { open, openDemo, save, recent, keepRecovery, dropRecovery, recoveries, openRecovery, readOwn, writeOwn, remember };
}
