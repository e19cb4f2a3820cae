/** Builds window and shell into dist/ when something changed since the last time; several test processes share one build. */
import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { link, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { threadId } from 'node:worker_threads';

export const program = fileURLToPath(new URL('../../', import.meta.url));
const run = promisify(execFile);

const timed = async (path: string): Promise<string> => `${path} ${(await stat(path)).mtimeMs}`;

/** Names and times of what stands in a folder of the program. */
async function timesIn(folder: string): Promise<string[]> {
  const entries = await readdir(join(program, folder), { withFileTypes: true, recursive: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  return Promise.all(files.sort().map(timed));
}

/** Names and times of everything that the build is made from. */
async function sources(): Promise<string> {
  const folders = await Promise.all(['core', 'electron', 'renderer'].map(timesIn));
  const files = await Promise.all(['bundle.mjs', 'package-lock.json'].map((name) => timed(join(program, name))));
  return [...folders.flat(), ...files].join('\n');
}

const stamp = join(program, 'dist', '.built');
const isThere = (...names: string[]): boolean => existsSync(join(program, 'dist', ...names));

async function isFresh(state: string): Promise<boolean> {
  const built = await readFile(stamp, 'utf8').catch(() => '');
  return built === state && isThere('electron', 'loopback.js') && isThere('renderer', 'index.html');
}

function lives(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** Holds the number of the process that builds, so that a lock whose process was killed is not waited for. */
const lock = join(tmpdir(), `twelvefold-build-${createHash('sha256').update(program).digest('hex').slice(0, 16)}`);

/** Whether this process may build now. The lock appears with its number in it, in one step, or not at all. */
async function locked(): Promise<boolean> {
  const own = `${lock}-${process.pid}-${threadId}`;
  await writeFile(own, String(process.pid));
  try {
    await link(own, lock);
    return true;
  } catch {
    const holder = Number(await readFile(lock, 'utf8').catch(() => process.pid));
    if (!lives(holder)) await rm(lock, { force: true });
    return false;
  } finally {
    await rm(own, { force: true });
  }
}

export async function builtProgram(): Promise<string> {
  for (;;) {
    // Looked at each time anew: who waits for a build must not build what is older.
    const state = await sources();
    if (await isFresh(state)) return program;
    if (!(await locked())) {
      await wait(200);
      continue;
    }
    try {
      // Another may have built between the look and the lock.
      if (await isFresh(state)) return program;
      await rm(stamp, { force: true });
      await run(process.execPath, [join(program, 'electron', 'bundle.mjs')], { cwd: program });
      await run(process.execPath, [join(program, 'node_modules', 'vite', 'bin', 'vite.js'), 'build', '-c', 'renderer/vite.config.ts'], {
        cwd: program,
        // As it is shipped, whatever this process is.
        env: { ...process.env, NODE_ENV: 'production' },
      });
      await writeFile(stamp, state);
      return program;
    } finally {
      await rm(lock, { force: true });
    }
  }
}
