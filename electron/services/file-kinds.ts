/** The kinds of files that a window opens and saves, by the endings of their names. */
import { extname, isAbsolute, resolve } from 'node:path';
import { bad, error, good, type Result } from '../../core/base/issue.js';

export const FILE_KINDS = {
  book: { ending: '.twelvefold', name: 'Twelvefold book', what: 'a book' },
  roster: { ending: '.roster', name: 'Roster of students', what: 'a roster' },
  ensemble: { ending: '.ensemble', name: 'Ensemble', what: 'an ensemble' },
} as const;
export type FileKind = keyof typeof FILE_KINDS;
export type CompanionKind = Exclude<FileKind, 'book'>;

/** A path as the user may give it to a file of this kind: absolute, with its ending, no odd characters. */
export function pathOfKind(path: string, kind: FileKind): Result<string> {
  const { ending, what } = FILE_KINDS[kind];
  if (!isAbsolute(path) || path.includes('\0')) return bad(error('not-a-path', [], 'Choose the file in the list; a whole path is needed.'));
  const full = resolve(path);
  if (extname(full).toLowerCase() === ending) return good(full);
  return bad(error(`not-a-${kind}-name`, [], `The name of ${what} ends in ${ending}; choose such a file, or add the ending.`));
}
