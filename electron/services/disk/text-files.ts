/** Text files that a window holds open: saved without loss, and never over what someone else changed meanwhile. */
import { createHash } from 'node:crypto';
import { stat } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { type JsonObject, MAX_LENGTH } from '../../../core/book/json.js';
import { fileIssue, readText, writeTextSafely } from '../../../core/disk/files.js';
import type { Saved } from '../contract/answers/files.js';

/** Bytes of the longest text that is read. */
export const MOST_BYTES = 3 * MAX_LENGTH;

export const stampOf = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 24);

export type Queue = <T>(work: () => Promise<T>) => Promise<T>;

/** Runs one write after another: a save never overtakes another save of the same file. */
export function queue(): Queue {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const next = last.then(work, work);
    last = next.catch(() => undefined);
    return next;
  };
}

/** What the disk refuses, as an issue. */
export async function caught<T>(path: string, work: () => Promise<Result<T>>): Promise<Result<T>> {
  try {
    return await work();
  } catch (failure) {
    const issue = fileIssue(failure, path);
    if (!issue) throw failure;
    return bad(issue);
  }
}

/** What stands at the path now: its stamp, or undefined when there is nothing. */
export async function stampOnDisk(path: string): Promise<string | undefined> {
  const text = await readText(path, MOST_BYTES);
  if (text.ok) return stampOf(text.value);
  return text.issues.some((issue) => issue.code === 'file-enoent') ? undefined : 'unreadable';
}

type Target = {
  readonly path: string;
  /** Of the text that was opened or saved last; undefined for a new file. */
  readonly stamp?: string | undefined;
  /** Write over a file that another program changed. */
  readonly force: boolean;
};

/** A book, a roster or an ensemble as it stands in the window, and where it goes. */
export type SaveSource = Target & { readonly source: Readonly<JsonObject> };

/** Issues `changed-on-disk`, `folder-gone`, `file-eisdir`, `file-read-only`, and those of the disk. What stood there before stays on failure. */
export async function saveText({ path, text, stamp, force }: Target & { readonly text: string }): Promise<Result<Saved>> {
  const name = basename(path);
  if (!(await stat(dirname(path)).catch(() => undefined))) {
    return bad(error('folder-gone', [], `The folder of "${name}" is no longer there; save it in another place.`));
  }
  const before = await stat(path).catch(() => undefined);
  if (before?.isDirectory()) return bad(error('file-eisdir', [], `"${name}" is a folder; choose another name for the file.`));
  const there = await stampOnDisk(path);
  if (!force && there !== undefined && there !== stamp) {
    return bad(
      error(
        'changed-on-disk',
        [],
        `Another program or window changed "${name}" since you opened it; save over it, or save yours under another name.`,
      ),
    );
  }
  // A file that may not be written is not replaced by another one, though its folder would allow it.
  if (before !== undefined && (before.mode & 0o222) === 0) {
    return bad(error('file-read-only', [], `"${name}" may only be read; save under another name, or allow writing to the file.`));
  }
  return caught(path, async () => {
    await writeTextSafely(path, text);
    return good({ path, name, stamp: stampOf(text) });
  });
}
