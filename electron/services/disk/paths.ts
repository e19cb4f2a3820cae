/** Paths as the user may give them. */
import { realpath } from 'node:fs/promises';
import { dirname, extname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { FILE_KINDS, type FileKind } from '../contract/file-kinds.js';

/** A path as the user may give it to a file of this kind: absolute, with its ending, no odd characters. */
export function pathOfKind(path: string, kind: FileKind): Result<string> {
  const { ending, what } = FILE_KINDS[kind];
  if (!isAbsolute(path) || path.includes('\0')) return bad(error('not-a-path', [], 'Choose the file in the list; a whole path is needed.'));
  const full = resolve(path);
  if (extname(full).toLowerCase() === ending) return good(full);
  return bad(error(`not-a-${kind}-name`, [], `The name of ${what} ends in ${ending}; choose such a file, or add the ending.`));
}

/** True for the root itself and for what lies inside it. Both must be absolute; links are not followed here. */
export function isInside(root: string, path: string): boolean {
  const way = relative(resolve(root), resolve(path));
  return way === '' || (!way.startsWith(`..${sep}`) && way !== '..' && resolve(root, way) === resolve(path));
}

/** The real place of a path, or of its nearest folder that exists: links out of the root are seen. */
export async function realPath(path: string): Promise<string> {
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
