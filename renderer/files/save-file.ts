/** What saving a book, a roster and an ensemble have in common: where to, what may be written over, and what is told. */
import type { Result } from '../../core/base/issue.js';
import type { Saved } from '../../electron/services/contract/answers/files.js';
import type { FileKind } from '../../electron/services/contract/file-kinds.js';
import { change, notify, now, type OpenFile, openFile, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';
import { choosePath } from './choose-path.js';

/** How: under another name, and over a file that another program changed. */
export type SaveHow = { readonly as?: boolean; readonly force?: boolean };

type Target<K extends FileKind> = Pick<OpenFile<K>, 'source' | 'stamp'> & { readonly path: string; readonly force: boolean };

/** Writes the open file of this kind. True when it is on the disk afterwards. */
export async function saveFile<K extends FileKind>(
  of: K,
  name: string,
  { as = false, force = false }: SaveHow,
  write: (target: Target<K>) => Promise<Result<Saved>>,
): Promise<boolean> {
  const { book } = now();
  const open = openFile(now(), of);
  if (!open) return false;
  const path = as || open.path === undefined ? await choosePath('save', name, of) : open.path;
  if (path === undefined) return false;
  const { source } = open;
  const other = path !== open.path;
  // The system's window has asked already whether a file may be replaced.
  const asked = other && now().about?.host === 'electron';
  const saved = await write({ source, path, stamp: other ? undefined : open.stamp, force: force || asked });
  if (!saved.ok) {
    const conflict = saved.issues.find((issue) => issue.code === 'changed-on-disk');
    if (conflict) change({ dialog: { kind: 'conflict', of, words: conflict.message } });
    else tellIssues(saved.issues);
    return false;
  }
  const present = openFile(now(), of);
  // Another book may have been opened meanwhile.
  if (present && now().book?.document === book?.document) change({ [of]: { ...present, ...saved.value, saved: source } });
  notify('note', T.file.savedAs(saved.value.name));
  return true;
}
