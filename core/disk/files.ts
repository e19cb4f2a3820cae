/**
 * Safe files. A file is written under a temporary name in its own folder, flushed to the disk, and only then takes
 * its real name; whatever goes wrong on the way, the old file stays and nothing half-written is left. What a process
 * leaves that is killed on the spot is removed by the next one that writes in the same folder.
 */
import { createWriteStream, unlinkSync } from 'node:fs';
import { access, constants, link, mkdir, open, readFile, realpath, rename, rm, rmdir, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { Writable } from 'node:stream';
import { finished } from 'node:stream/promises';
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { removeLeftBehind, temporaryName } from './left-behind.js';

/** Temporary files that exist at this moment, for a process that must end at once. */
const unfinished = new Set<string>();

/** Removes the temporary files of writes that are still going on. For the last moment before the process ends. */
export function removeUnfinished(): void {
  for (const path of unfinished) {
    try {
      unlinkSync(path);
    } catch {
      // It has its real name already, or its folder is gone: nothing is left to remove.
    }
  }
  unfinished.clear();
}

/** Folders in which this process has looked for files left behind by others. */
const tidied = new Set<string>();

async function tidy(folder: string): Promise<void> {
  if (tidied.has(folder)) return;
  tidied.add(folder);
  await removeLeftBehind(folder);
}

export type WriteOptions = {
  /** False: an existing file is never replaced. */
  readonly replace?: boolean;
  /** True: a link of this name is replaced, so that nothing is written outside the folder. False: what it leads to is. */
  readonly inFolder?: boolean;
  readonly signal?: AbortSignal;
};

/**
 * Writes one file through a stream. `fill` gets the stream and returns when it has written everything; the stream may
 * be ended by it or not. Rejects with what `fill`, the file system or the signal threw, and then leaves no trace.
 */
export async function writeSafely(path: string, fill: (sink: Writable) => Promise<void> | void, options: WriteOptions = {}): Promise<void> {
  const { replace = true, inFolder = false, signal } = options;
  const target = inFolder ? path : await realpath(path).catch(() => path);
  const temporary = join(dirname(target), temporaryName(basename(target)));
  signal?.throwIfAborted();
  await tidy(dirname(target));
  if (!replace && (await exists(target))) throw alreadyThere(path);
  unfinished.add(temporary);
  try {
    await writeThrough(temporary, fill);
    signal?.throwIfAborted();
    if (replace) await rename(temporary, target);
    else await take(temporary, target);
  } finally {
    // Where even that is refused, the next start removes it; the first failure is the one to tell.
    await rm(temporary, { force: true }).catch(() => undefined);
    unfinished.delete(temporary);
  }
}

/** A new file, filled, flushed to the disk and closed; closed too when it fails. */
async function writeThrough(path: string, fill: (sink: Writable) => Promise<void> | void): Promise<void> {
  const sink = createWriteStream(path, { flags: 'wx', flush: true });
  const closed = new Promise<void>((resolve) => void sink.once('close', resolve));
  const ended = finished(sink);
  ended.catch(() => {});
  try {
    // The stream may fail while `fill` still waits for it; whichever rejects first is told.
    const filled = Promise.resolve(fill(sink));
    filled.catch(() => {});
    await Promise.race([filled, ended.then(() => filled)]);
    if (!sink.writableEnded) sink.end();
    await ended;
  } finally {
    sink.destroy();
    await closed;
  }
}

/** Gives the file its name only if that name is free; two programs that try at once cannot both succeed. */
async function take(temporary: string, target: string): Promise<void> {
  try {
    await link(temporary, target);
  } catch (failure) {
    // Some removable disks have no links; there the name is looked at once more before it is taken.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS'].includes(codeOf(failure) ?? '')) throw failure;
    if (await exists(target)) throw alreadyThere(target);
    await rename(temporary, target);
  }
}

export async function writeTextSafely(path: string, text: string, options: WriteOptions = {}): Promise<void> {
  await writeSafely(path, (sink) => void sink.end(text, 'utf8'), options);
}

/** Writes what a file is made of piece by piece, at the pace of the disk; a wish to stop is heard between two pieces. */
export async function writeChunksSafely(path: string, chunks: Iterable<Uint8Array | string>, options: WriteOptions = {}): Promise<void> {
  const fill = async (sink: Writable): Promise<void> => {
    for (const chunk of chunks) {
      options.signal?.throwIfAborted();
      await new Promise<void>((done, fail) => void sink.write(chunk, (problem) => (problem ? fail(problem) : done())));
    }
  };
  await writeSafely(path, fill, options);
}

async function exists(path: string): Promise<boolean> {
  return access(path, constants.F_OK).then(
    () => true,
    () => false,
  );
}

const alreadyThere = (path: string): NodeJS.ErrnoException => Object.assign(new Error(`exists: ${path}`), { code: 'EEXIST' });

const codeOf = (failure: unknown): string | undefined => {
  const code = (failure as { code?: unknown } | null)?.code;
  return typeof code === 'string' ? code : undefined;
};

/** What the file system refused, in a sentence; undefined when the failure is not one of the file system. */
export function fileIssue(failure: unknown, path: string): Issue | undefined {
  const reason: Readonly<Record<string, string>> = {
    ENOENT: `There is no file or folder "${path}"; check the name and the folder.`,
    EACCES: `"${path}" may not be read or written; change its permissions or choose another place.`,
    EPERM: `"${path}" may not be read or written; change its permissions or choose another place.`,
    EROFS: `"${path}" is on a disk that cannot be written; choose another folder with --out.`,
    EISDIR: `"${path}" is a folder; name a file.`,
    ENOTDIR: `"${path}" cannot be used, because a part of it is a file and not a folder; choose another folder.`,
    EEXIST: `"${path}" exists already; choose another name, or move it away first.`,
    ENOSPC: `The disk of "${path}" is full; make room or choose another folder.`,
    EDQUOT: `The disk of "${path}" is full; make room or choose another folder.`,
    ENAMETOOLONG: `The name "${path}" is too long; choose a shorter one.`,
    EFBIG: `"${path}" grew too large for its disk; choose another folder.`,
    EBUSY: `"${path}" is in use by another program; close it there and try again.`,
    EMFILE: `Too many files are open; close other programs and try again.`,
    ENFILE: `Too many files are open; close other programs and try again.`,
    ELOOP: `"${path}" is a link that leads back to itself; choose another place.`,
    EIO: `The disk of "${path}" failed; try another disk.`,
  };
  const code = codeOf(failure);
  if (code === undefined || !Object.hasOwn(reason, code)) return undefined;
  return error(`file-${code.toLowerCase()}`, [], reason[code] as string);
}

/** Reads UTF-8 text, or says why not, with the name as the user wrote it. A file above `longest` bytes is not read. */
export async function readText(file: string, longest: number, path = file, what = 'a book file'): Promise<Result<string>> {
  try {
    const about = await stat(file);
    if (about.isDirectory()) return bad(error('file-eisdir', [], `"${path}" is a folder; name a file.`));
    if (!about.isFile()) return bad(error('not-a-file', [], `"${path}" is not a plain file; name ${what}.`));
    if (about.size > longest) {
      const size = `${Math.ceil(about.size / 1024 / 1024)} MB`;
      return bad(error('file-too-large', [], `"${path}" is too large for ${what} (${size}); choose another file.`));
    }
    const bytes = await readFile(file);
    return good(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch (failure) {
    if (failure instanceof TypeError && codeOf(failure) === 'ERR_ENCODING_INVALID_ENCODED_DATA') {
      return bad(error('not-text', [], `"${path}" is not UTF-8 text, so it is not ${what}; choose another file or save it as UTF-8.`));
    }
    const issue = fileIssue(failure, path);
    if (!issue) throw failure;
    return bad(issue);
  }
}

/**
 * Makes a folder and those above it. Not by the platform's own way of making several at once, which never returns on a
 * file system that has a parent folder and yet answers that there is none (seen on Linux under /proc, Node 20).
 */
async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path);
  } catch (failure) {
    const code = codeOf(failure);
    if (code === 'EEXIST' && (await stat(path)).isDirectory()) return;
    const above = dirname(path);
    if (code !== 'ENOENT' || above === path || (await exists(above))) throw failure;
    await makeFolder(above);
    await mkdir(path);
  }
}

/** Makes the folder if need be and tries whether files can be written in it. */
export async function readyFolder(folder: string, path = folder): Promise<Result<string>> {
  try {
    await makeFolder(folder);
    const trial = join(folder, temporaryName('trial'));
    await (await open(trial, 'wx')).close();
    await rm(trial);
    return good(folder);
  } catch (failure) {
    if (codeOf(failure) === 'EEXIST')
      return bad(error('not-a-folder', [], `"${path}" is a file, not a folder; choose another folder with --out.`));
    const issue = fileIssue(failure, path);
    if (!issue) throw failure;
    return bad(issue);
  }
}

/** The folders of a path that are not there, the innermost first. */
async function missingFolders(path: string): Promise<string[]> {
  const above = dirname(path);
  return above === path || (await exists(path)) ? [] : [path, ...(await missingFolders(above))];
}

/** Readies a folder for what is written in it; if in the end nothing was, what was made for it is taken away again. */
export async function inFolder<T>(folder: string, path: string, work: (folder: string) => Promise<T>): Promise<Result<T>> {
  const missing = await missingFolders(folder);
  try {
    const ready = await readyFolder(folder, path);
    return ready.ok ? good(await work(ready.value)) : ready;
  } finally {
    // One that holds something is left by itself.
    for (const made of missing) await rmdir(made).catch(() => undefined);
  }
}
