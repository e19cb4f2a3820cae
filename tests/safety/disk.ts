/** Disks that are full: a small disk in memory where that can be mounted, else files that may not grow. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export type SmallDisk = { readonly folder: string; readonly kilobytes: number; remove(): void };

/** A disk of so many kilobytes; undefined where this user may not mount one. */
export function smallDisk(kilobytes: number): SmallDisk | undefined {
  if (process.platform !== 'linux') return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'twelvefold-disk-'));
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${kilobytes}k`, 'tmpfs', folder], { stdio: 'ignore' });
  if (mounted.status !== 0) {
    rmSync(folder, { recursive: true });
    return undefined;
  }
  return {
    folder,
    kilobytes,
    remove: () => {
      execFileSync('umount', [folder]);
      rmSync(folder, { recursive: true });
    },
  };
}

/** Runs the built command line in a process whose files may not grow beyond so many kilobytes. */
export function runInLimit(
  kilobytes: number,
  folder: string,
  args: readonly string[],
): { readonly code: number | null; readonly err: string } {
  const words = [join(process.cwd(), 'dist/cli/cli.js'), ...args];
  // A block of the limit has 1,024 bytes in bash. The signal that comes with the limit is ignored, as where a quota is used up.
  const script = `trap '' XFSZ; ulimit -f ${kilobytes}; exec "$@"`;
  const { status, stderr } = spawnSync('bash', ['-c', script, 'bash', process.execPath, ...words], { cwd: folder, encoding: 'utf8' });
  return { code: status, err: stderr };
}
