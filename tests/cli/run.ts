/** Runs the command line inside the test, in a folder of its own. */
import { mkdtempSync, readdirSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../../core/cli/main.js';
import type { Terminal } from '../../core/cli/terminal.js';

export type Answer = { readonly code: number; readonly out: string; readonly err: string };

export function workbench() {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'twelvefold-')));
  return {
    folder,
    names: () => readdirSync(folder, { recursive: true }).map(String).sort(),
    write: (name: string, content: string | object) =>
      writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content)),
    remove: (name: string) => rmSync(join(folder, name), { force: true }),
    clear: () => rmSync(folder, { recursive: true }),
    async run(args: readonly string[], more: Partial<Terminal> = {}): Promise<Answer> {
      let out = '';
      let err = '';
      const terminal: Terminal = {
        out: (text) => {
          out += text;
        },
        err: (text) => {
          err += text;
        },
        cwd: folder,
        watched: false,
        signal: new AbortController().signal,
        today: '2026-03-01',
        ...more,
      };
      return { code: await run(args, terminal), out, err };
    },
  };
}
