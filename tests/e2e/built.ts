/** Builds window and shell into dist/ when something changed since the last time; several test processes share one build. */
import { execFile } from 'node:child_process';
import { mkdir, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

export const program = fileURLToPath(new URL('../../', import.meta.url));
const run = promisify(execFile);

const timed = async (path: string): Promise<string> => `${path} ${(await stat(path)).mtimeMs}`;

/** Names and times of everything that the build is made from. */
async function stateOf(folder: string): Promise<string[]> {
  const entries = await readdir(join(program, folder), { withFileTypes: true, recursive: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  return Promise.all(files.sort().map(timed));
}

export async function builtProgram(): Promise<string> {
  const state = [
    ...(await Promise.all(['core', 'electron', 'renderer'].map(stateOf))).flat(),
    await timed(join(program, 'bundle.mjs')),
  ].join('\n');
  const stamp = join(program, 'dist', '.built');
  const lock = join(tmpdir(), `twelvefold-build-${Buffer.from(program).toString('hex').slice(-24)}`);
  for (;;) {
    if ((await readFile(stamp, 'utf8').catch(() => '')) === state) return program;
    const mine = await mkdir(lock).then(
      () => true,
      () => false,
    );
    if (mine) break;
    // A lock left by a process that was killed is not waited for.
    const age = Date.now() - (await stat(lock).catch(() => ({ mtimeMs: Date.now() }))).mtimeMs;
    if (age > 120_000) await rm(lock, { recursive: true, force: true });
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  try {
    await run(process.execPath, [join(program, 'electron', 'bundle.mjs')], { cwd: program });
    await run(process.execPath, [join(program, 'node_modules', 'vite', 'bin', 'vite.js'), 'build', '-c', 'renderer/vite.config.ts'], {
      cwd: program,
      // As it is shipped, whatever this process is.
      env: { ...process.env, NODE_ENV: 'production' },
    });
    await writeFile(stamp, state);
  } finally {
    await rm(lock, { recursive: true, force: true });
  }
  return program;
}
