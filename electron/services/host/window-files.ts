/** The files that the window is made of, read from one folder and never from outside it. */
import { readFile, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { isInside } from '../disk/paths.js';
import { typeOf } from './content-policy.js';

export type WindowFile = { readonly type: string; readonly bytes: Uint8Array<ArrayBuffer> };

/** `path`: of the address, percent-encoded, from `/` on. Undefined for what is not there, not inside, or of no served type. */
export async function windowFile(root: string, path: string): Promise<WindowFile | undefined> {
  let name: string;
  try {
    name = decodeURIComponent(path);
  } catch {
    return undefined;
  }
  if (name.includes('\0') || name.includes('\\')) return undefined;
  const wanted = join(root, name === '/' ? 'index.html' : name);
  const type = typeOf(wanted);
  if (type === undefined || !isInside(root, wanted)) return undefined;
  const real = await realpath(wanted).catch(() => undefined);
  if (real === undefined || !isInside(await realpath(root), real)) return undefined;
  return { type, bytes: await readFile(real) };
}
