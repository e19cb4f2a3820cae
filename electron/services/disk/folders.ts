/** Folders and books for a file chooser of the window's own, inside one root. */
import { readdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { fileIssue } from '../../../core/disk/files.js';
import type { FolderList } from '../contract/answers/files.js';
import { FILE_KINDS, type FileKind } from '../contract/file-kinds.js';
import { isInside, realPath } from './paths.js';

const MOST = 2000;

/** Folders and files of one kind; hidden ones are not listed. */
export async function folderList(root: string, folder: string, kind: FileKind = 'book'): Promise<Result<FolderList>> {
  if (!isInside(root, await realPath(folder))) {
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
