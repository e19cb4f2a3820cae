/** Zip archives: the only import of fflate. Writing is deterministic; reading is bounded, whatever the archive claims. */
import { Unzip, UnzipInflate, zipSync } from 'fflate';
import { bad, error, good, type Result } from '../base/issue.js';

export type ZipEntry = { readonly name: string; readonly bytes: Uint8Array; readonly stored?: boolean };

/** Entries in the order given, all dated noon of this ISO day: same entries, same bytes, in every time zone. */
export function writeZip(entries: readonly ZipEntry[], date: string): Uint8Array {
  const [year = Number.NaN, month = 1, day = 1] = date.split('-').map(Number);
  // The archive keeps local time without a zone, so a date made of local parts is the same everywhere. It knows 1980 to 2107.
  const mtime = new Date(Math.min(2107, Math.max(1980, year)), month - 1, day, 12);
  return zipSync(Object.fromEntries(entries.map(({ name, bytes, stored }) => [name, [bytes, { level: stored ? 0 : 9, mtime, os: 3 }]])));
}

export type ZipLimits = { readonly entries: number; readonly bytes: number };

/** Bytes handed to the reader at a time: deflate grows a byte to 1032 at most, so one step stays under 5 MB. */
const STEP = 4096;

/**
 * The entry of this name; undefined when there is none. It is read as a stream and given up as soon as it grows beyond the
 * limit, so that an archive that lies about its sizes costs no more than one that does not.
 */
export function readZipEntry(archive: Uint8Array, name: string, limits: ZipLimits): Result<Uint8Array | undefined> {
  const parts: Uint8Array[] = [];
  let entries = 0;
  let size = 0;
  let found = false;
  let done = false;
  let broken: unknown;
  const reader = new Unzip((file) => {
    entries++;
    if (file.name !== name || found) return;
    found = true;
    file.ondata = (failure, chunk, final) => {
      if (failure) broken = failure;
      if (done || failure) return;
      size += chunk.length;
      if (size > limits.bytes) file.terminate();
      else parts.push(chunk);
      done = final;
    };
    file.start();
  });
  reader.register(UnzipInflate);
  try {
    for (let at = 0; at < archive.length && !done && !broken && size <= limits.bytes && entries <= limits.entries; at += STEP) {
      reader.push(archive.subarray(at, at + STEP), at + STEP >= archive.length);
    }
  } catch (failure) {
    broken = failure;
  }
  if (entries > limits.entries) {
    return bad(
      error('archive-too-large', [], `The archive holds more than ${limits.entries} files; choose one that holds a single piece.`),
    );
  }
  if (size > limits.bytes) {
    const most = Math.floor(limits.bytes / 1024 / 1024);
    return bad(
      error('archive-too-large', [], `A file in the archive unpacks to more than ${most} MB; choose one that holds a single piece.`),
    );
  }
  if (broken !== undefined || (found && !done)) {
    return bad(error('archive-broken', [], 'The archive is damaged or cut short; save or copy the file again.'));
  }
  if (!found) return good(undefined);
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return good(bytes);
}
