/** A copy of the repository in which faults may stand, so that the files one works on are never touched. */
import { cpSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const PARTS = ['core', 'tests', 'assets', 'docs', 'package.json', 'package-lock.json', 'tsconfig.json', 'README.md'];

export type Copy = { readonly root: string; write(file: string, text: string): void; remove(): void };

export function openCopy(): Copy {
  const root = mkdtempSync(join(tmpdir(), 'twelvefold-mutants-'));
  for (const part of PARTS) cpSync(part, join(root, part), { recursive: true });
  for (const part of ['node_modules', 'electron', 'renderer', 'bench']) symlinkSync(resolve(part), join(root, part));
  return {
    root,
    write: (file, text) => writeFileSync(join(root, file), text),
    remove: () => rmSync(root, { recursive: true, force: true }),
  };
}
