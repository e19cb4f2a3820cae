/** The program's own small files, as JSON: preferences, recent books, copies for recovery. */
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { z } from 'zod';
import { good, type Result } from '../../../core/base/issue.js';
import { readText, writeTextSafely } from '../../../core/disk/files.js';
import type { Nothing } from '../contract/questions.js';
import { caught, MOST_BYTES, type Queue } from './text-files.js';

/** A file that is missing or damaged counts as empty. */
export async function readOwn<T>(path: string, shape: z.ZodType<T>): Promise<T | undefined> {
  const text = await readText(path, MOST_BYTES);
  if (!text.ok) return undefined;
  try {
    const read = shape.safeParse(JSON.parse(text.value));
    return read.success ? read.data : undefined;
  } catch {
    return undefined;
  }
}

export type WriteOwn = (path: string, value: unknown) => Promise<Result<Nothing>>;

export const ownWriter =
  (inTurn: Queue): WriteOwn =>
  (path, value) =>
    inTurn(() =>
      caught(path, async () => {
        await mkdir(dirname(path), { recursive: true });
        await writeTextSafely(path, `${JSON.stringify(value, null, 2)}\n`);
        return good({});
      }),
    );
