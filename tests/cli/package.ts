/**
 * The program as it is installed: built anew, packed as `files` of package.json says, and unpacked in a folder of its own,
 * where there are no modules and no sources. A file that is forgotten is missing there.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { assert } from '../../core/base/issue.js';
import { builtProgram } from '../e2e/built.js';

const root = fileURLToPath(new URL('../../', import.meta.url));

export type Installed = {
  /** Of the program; `dist/` and `assets/` lie in it. */
  readonly program: string;
  /** A folder to work in, away from it. */
  readonly folder: string;
  /** Runs the command line in the folder; `node`: the runtime, else the one that runs the tests. */
  readonly run: (args: readonly string[], node?: string) => { readonly code: number | null; readonly out: string; readonly err: string };
  readonly clear: () => void;
};

function done(command: string, args: readonly string[], cwd: string): void {
  const { status, stderr, error } = spawnSync(command, args, { cwd, encoding: 'utf8' });
  assert(status === 0, `${command} ${args.join(' ')} works: ${stderr ?? ''}${error ?? ''}`);
}

/** `window`: with what the window needs. */
export async function installed({ window }: { readonly window: boolean }): Promise<Installed> {
  const temporary = realpathSync(mkdtempSync(join(tmpdir(), 'twelvefold-installed-')));
  const staged = join(temporary, 'staged');
  mkdirSync(staged);
  for (const name of ['package.json', 'assets', 'docs', 'LICENSE', 'README.md', 'THIRD-PARTY.md'])
    cpSync(join(root, name), join(staged, name), { recursive: true });
  done(process.execPath, ['bundle.mjs', join(staged, 'dist', 'cli')], root);
  if (window) {
    await builtProgram();
    for (const part of ['electron', 'renderer']) cpSync(join(root, 'dist', part), join(staged, 'dist', part), { recursive: true });
  }
  done('npm', ['pack', '--ignore-scripts', '--silent', '--pack-destination', temporary], staged);
  for (const name of readdirSync(temporary)) if (name.endsWith('.tgz')) done('tar', ['-xzf', name], temporary);
  const program = join(temporary, 'package');
  const folder = join(temporary, 'work');
  mkdirSync(folder);
  return {
    program,
    folder,
    run(args, node = process.execPath) {
      // Nothing of the tests' own surroundings: no loader, no options of the runtime.
      const env = { PATH: process.env.PATH, HOME: folder, TMPDIR: tmpdir() };
      const { status, stdout, stderr } = spawnSync(node, [join(program, 'dist', 'cli', 'cli.js'), ...args], {
        cwd: folder,
        env,
        encoding: 'utf8',
      });
      return { code: status, out: stdout, err: stderr };
    },
    clear: () => rmSync(temporary, { recursive: true }),
  };
}
