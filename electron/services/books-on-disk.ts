/** Books on the disk: opening, saving without loss, copies for recovery, and what was opened lately. */
import { mkdir, readdir, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { z } from 'zod';
import { bad, error, good, type Issue, type Result } from '../../core/base/issue.js';
import { readBookSource } from '../../core/book/read.js';
import { type BookSource, checkShape } from '../../core/book/schema.js';
import { writeBook } from '../../core/book/write.js';
import { readText, writeTextSafely } from '../../core/disk/files.js';
import type { Beside, KeepRecovery, Nothing, Opened, OpenedRecovery, RecentBook, Recovered, Saved } from './contract.js';
import { FILE_KINDS, pathOfKind } from './file-kinds.js';
import { caught, MOST_BYTES, queue, saveText, stampOf, stampOnDisk } from './text-files.js';

export const EXTENSION = FILE_KINDS.book.ending;

const RECENT_LENGTH = 12;

const recentShape = z.array(z.string().max(4096)).max(100);
const besideShape = z.record(z.string(), z.object({ roster: z.string().max(4096).optional(), ensemble: z.string().max(4096).optional() }));
const MOST_BESIDE = 100;
const recoveryShape = z.strictObject({
  document: z.string(),
  path: z.string().optional(),
  name: z.string(),
  time: z.string(),
  source: z.looseObject({}),
  companions: z
    .array(
      z.strictObject({ kind: z.enum(['roster', 'ensemble']), path: z.string().optional(), name: z.string(), source: z.looseObject({}) }),
    )
    .max(2)
    .optional(),
});

const DOCUMENT_NAME = /^[A-Za-z0-9-]{8,64}$/;
const badDocument = (): Issue => error('unknown-document', [], 'There is no such book in this window; open it again.');

export type BooksOnDisk = ReturnType<typeof booksOnDisk>;

/** `now` gives the ISO time of a recovery copy; `demo` is the path of the demo book. */
export function booksOnDisk({ folder, demo, now }: { folder: string; demo: string; now: () => string }) {
  const inTurn = queue();
  const recentFile = join(folder, 'recent.json');
  const besideFile = join(folder, 'beside.json');
  const recoveryFolder = join(folder, 'recovery');
  const recoveryFile = (document: string) => join(recoveryFolder, `${document}.json`);

  /** A file of the program's own that is missing or damaged counts as empty. */
  async function readOwn<T>(path: string, shape: z.ZodType<T>): Promise<T | undefined> {
    const text = await readText(path, MOST_BYTES);
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

  /** Which roster and ensemble were open beside a book. */
  async function companionsOf(book: string): Promise<Beside> {
    return (await readOwn(besideFile, besideShape))?.[book] ?? {};
  }

  async function rememberCompanions(book: string, beside: Beside): Promise<Result<Nothing>> {
    const before = Object.entries((await readOwn(besideFile, besideShape)) ?? {}).filter(([path]) => path !== book);
    return writeOwn(besideFile, Object.fromEntries([[book, beside], ...before].slice(0, MOST_BESIDE)));
  }

  async function read(path: string): Promise<Result<Opened>> {
    const text = await readText(path, MOST_BYTES, basename(path));
    if (!text.ok) return text;
    const source = readBookSource(text.value);
    if (!source.ok) return source;
    return good({ source: source.value, path, name: basename(path), stamp: stampOf(text.value) }, source.issues);
  }

  async function open(path: string): Promise<Result<Opened>> {
    const full = pathOfKind(path, 'book');
    if (!full.ok) return full;
    const opened = await read(full.value);
    if (opened.ok) await remember(full.value);
    return opened;
  }

  async function openDemo(): Promise<Result<Opened>> {
    const opened = await read(demo);
    return opened.ok ? good({ ...opened.value, path: undefined, stamp: undefined }, opened.issues) : opened;
  }

  async function save(ask: { source: BookSource; path: string; stamp: string | undefined; force: boolean }): Promise<Result<Saved>> {
    const full = pathOfKind(ask.path, 'book');
    if (!full.ok) return full;
    const path = full.value;
    // Nothing is written that could not be opened again.
    const shape = checkShape(ask.source as unknown as { [field: string]: unknown });
    if (!shape.ok)
      return bad(error('not-saveable', [], `The book cannot be saved as it stands: ${shape.issues[0]?.message ?? ''}`), ...shape.issues);
    return inTurn(async () => {
      const saved = await saveText({ path, text: writeBook(ask.source), stamp: ask.stamp, force: ask.force });
      // Not awaited: it waits for its turn behind this save.
      if (saved.ok) void remember(path);
      return saved;
    });
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

  async function keepRecovery(ask: KeepRecovery): Promise<Result<Nothing>> {
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

  async function openRecovery(document: string): Promise<Result<OpenedRecovery>> {
    if (!DOCUMENT_NAME.test(document)) return bad(badDocument());
    const copy = await readOwn(recoveryFile(document), recoveryShape);
    const shape = copy && checkShape(copy.source);
    if (!copy || !shape?.ok) return bad(error('recovery-damaged', [], 'The recovery copy cannot be read any more; open the book itself.'));
    const stamp = copy.path ? await stampOnDisk(copy.path) : undefined;
    const companions = await Promise.all(
      (copy.companions ?? []).map(async ({ kind, path, name, source }) => ({
        kind,
        opened: { source: source as never, path, name, stamp: path === undefined ? undefined : await stampOnDisk(path) },
      })),
    );
    return good({ source: shape.value, path: copy.path, name: copy.name, stamp, companions });
  }

  return {
    read,
    open,
    openDemo,
    save,
    recent,
    companionsOf,
    rememberCompanions,
    keepRecovery,
    dropRecovery,
    recoveries,
    openRecovery,
    readOwn,
    writeOwn,
    remember,
  };
}
