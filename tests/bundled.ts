/**
 * Sources bundled as the program is, for the tests that start processes or threads: these begin several times faster than by
 * loading some hundred sources one by one. Bundled once for each state of the sources.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const program = fileURLToPath(new URL('../', import.meta.url));
const kept = join(program, 'dist', 'bundled');

/** In milliseconds. Bundles of older sources are thrown away when no run can need them any more. */
const DAY = 24 * 3_600_000;

const changed = (path: string): number => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;

/** Names and times of everything that may be bundled. */
function state(): string {
  const files = ['core', 'electron', 'tests']
    .flatMap((name) => readdirSync(join(program, name), { withFileTypes: true, recursive: true }))
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => join(entry.parentPath, entry.name));
  return [...files, join(program, 'bundle.mjs')].map((path) => `${path} ${changed(path)}`).join('\n');
}

function bundle(entryPoints: Readonly<Record<string, string>>, out: string): void {
  const script = `
    import { build } from 'esbuild';
    import { modules } from './bundle.mjs';
    await build({ ...modules, ...${JSON.stringify({ entryPoints, outdir: out })} });`;
  execFileSync(process.execPath, ['--input-type=module', '-e', script], { cwd: program, stdio: ['ignore', 'ignore', 'inherit'] });
}

/**
 * The folder in which each of these stands as `name.js`. `entryPoints`: name → path from the program's folder. It appears whole,
 * under a name of its contents: processes that make it at once do not meet.
 */
export function bundled(entryPoints: Readonly<Record<string, string>>): string {
  const name = createHash('sha256')
    .update(JSON.stringify(entryPoints) + state())
    .digest('hex')
    .slice(0, 16);
  const whole = join(kept, name);
  if (existsSync(whole)) return whole;
  for (const old of existsSync(kept) ? readdirSync(kept) : []) {
    if (changed(join(kept, old)) < Date.now() - DAY) rmSync(join(kept, old), { recursive: true, force: true });
  }
  const own = `${whole}-${process.pid}`;
  bundle(entryPoints, own);
  try {
    renameSync(own, whole);
  } catch {
    // Another process was sooner.
    rmSync(own, { recursive: true });
  }
  return whole;
}
