/**
 * Temporary files and what is left of them. The name of one says which process on which computer writes it, so that the
 * next start can tell a file that a killed process left behind from one that is still being written.
 */
import { createHash, randomBytes } from 'node:crypto';
import { readdir, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';

/** Eight digits for this computer: process numbers of others mean nothing here. */
const HERE = createHash('sha256').update(hostname()).digest('hex').slice(0, 8);

const TEMPORARY = /^\..*\.([0-9a-f]{8})-(\d{1,10})-[0-9a-f]{12}\.tmp$/s;

/** Hours after which a temporary file of another computer, which cannot be asked, counts as left behind. */
const LONG_AGO = 48;

/** A name for a temporary file, hidden on most systems and short enough for every file system. */
export function temporaryName(target: string): string {
  const stem = [...target].slice(0, 40).join('');
  return `.${stem}.${HERE}-${process.pid}-${randomBytes(6).toString('hex')}.tmp`;
}

function alive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (failure) {
    // Only "no such process" means that there is none; it may belong to somebody else.
    return (failure as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}

/**
 * Removes the temporary files in a folder whose process on this computer has ended, and those of other computers that
 * are two days old; `now` in milliseconds. Files that cannot be looked at or removed are left: they harm nobody.
 */
export async function removeLeftBehind(folder: string, now = Date.now()): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names) {
    const [, computer, pid] = TEMPORARY.exec(name) ?? [];
    if (computer === undefined) continue;
    const path = join(folder, name);
    try {
      const left = computer === HERE ? !alive(Number(pid)) : now - (await stat(path)).mtimeMs > LONG_AGO * 3_600_000;
      if (left) await rm(path, { force: true });
    } catch {
      // Somebody else removed it, or may.
    }
  }
}
