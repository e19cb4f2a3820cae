/** Folders and books for a file chooser of the window's own, inside one root. */
import { readdir, realpath } from 'node:fs/promises';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { bad, error, good, type Result } from '../../core/base/issue.js';
import { fileIssue } from '../../core/disk/files.js';
import type { PlaceList } from './contract.js';
import { FILE_KINDS, type FileKind } from './file-kinds.js';

/** True for the root itself and for what lies inside it. Both must be absolute; links are not followed here. */
export function isInside(root: string, path: string): boolean {
  const way = relative(resolve(root), resolve(path));
  return way === '' || (!way.startsWith(`..${sep}`) && way !== '..' && resolve(root, way) === resolve(path));
}

/** The real place of a path, or of its nearest folder that exists: links out of the root are seen. */
export async function realPlace(path: string): Promise<string> {
  let at = resolve(path);
  let rest = '';
  for (;;) {
    const real = await realpath(at).catch(() => undefined);
    if (real !== undefined) return rest === '' ? real : join(real, rest);
    const above = dirname(at);
    if (above === at) return resolve(path);
    rest = rest === '' ? at.slice(above.length).replace(/^[\\/]/, '') : join(at.slice(above.length).replace(/^[\\/]/, ''), rest);
    at = above;
  }
}

const MOST = 2000;

/** Folders and files of one kind; hidden ones are not listed. */
export async function placesIn(root: string, folder: string, kind: FileKind = 'book'): Promise<Result<PlaceList>> {
  if (!isInside(root, await realPlace(folder))) {
    return bad(error('outside', [], `Books are kept in "${root}" and the folders inside it; choose a place there.`));
  }
  try {
    const entries = await readdir(folder, { withFileTypes: true });
    const shown = entries
      .filter((entry) => !entry.name.startsWith('.') && (entry.isDirectory() || entry.name.toLowerCase().endsWith(FILE_KINDS[kind].ending)))
      .map((entry) => ({
        name: entry.name,
        path: join(folder, entry.name),
        kind: entry.isDirectory() ? ('folder' as const) : kind,
      }))
      .sort((a, b) => Number(b.kind === 'folder') - Number(a.kind === 'folder') || a.name.localeCompare(b.name))
      .slice(0, MOST);
    return good({ folder, above: isInside(root, dirname(folder)) && folder !== root ? dirname(folder) : undefined, entries: shown });
  } catch (failure) {
    const issue = fileIssue(failure, folder);
    if (!issue) throw failure;
    return bad(issue);
  }
}
