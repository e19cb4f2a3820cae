/** Temporary files: their names, and when one counts as left behind. */
import { mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fileIssue } from '../../core/disk/files.js';
import { installedFonts } from '../../core/disk/fonts.js';
import { removeLeftBehind, temporaryName } from '../../core/disk/left-behind.js';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'twelvefold-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const HOUR = 3_600_000;
const NOW = Date.UTC(2026, 2, 1, 12);

/** A file of this name that was written so many hours ago. */
function put(name: string, hours = 0): void {
  const path = join(folder, name);
  writeFileSync(path, 'x');
  const at = new Date(NOW - hours * HOUR);
  utimesSync(path, at, at);
}
const left = (): string[] => readdirSync(folder).sort();

describe('a temporary name', () => {
  it('is hidden, has the first 40 letters of the target, the process and twelve digits', () => {
    const name = temporaryName(`${'ä'.repeat(50)}.pdf`);
    expect(name).toMatch(new RegExp(`^\\.ä{40}\\.[0-9a-f]{8}-${process.pid}-[0-9a-f]{12}\\.tmp$`));
    expect(temporaryName('a')).not.toBe(temporaryName('a'));
  });
});

describe('files left behind', () => {
  const other = (n: number): string => `.book.pdf.00000000-${n}-${'0'.repeat(12)}.tmp`;
  it('of another computer are removed after two days, not before', async () => {
    put(other(1), 47.9);
    put(other(2), 48.1);
    await removeLeftBehind(folder, NOW);
    expect(left()).toEqual([other(1)]);
  });
  it('of a process that has ended are removed at once, of one that lives never', async () => {
    const own = temporaryName('book.pdf');
    const ended = own.replace(`-${process.pid}-`, '-4194305-');
    put(own, 100);
    put(ended);
    await removeLeftBehind(folder, NOW);
    expect(left()).toEqual([own]);
  });
  it('are none that have other names', async () => {
    const names = [
      'a.tmp',
      '.book.0000000-1-000000000000.tmp',
      '.book.00000000-1-00000000000.tmp',
      'book.00000000-1-000000000000.tmp',
      '.book.00000000-1-000000000000.tmp2',
    ];
    for (const name of names) put(name, 100);
    await removeLeftBehind(folder, NOW);
    expect(left()).toEqual([...names].sort());
  });
  it('in a folder that is not there are nobody’s trouble', () => expect(removeLeftBehind(join(folder, 'none'))).resolves.toBeUndefined());
});

it.each([
  ['ENOENT', 'There is no file or folder "x"; check the name and the folder.'],
  ['EACCES', '"x" may not be read or written; change its permissions or choose another place.'],
  ['EPERM', '"x" may not be read or written; change its permissions or choose another place.'],
  ['EROFS', '"x" is on a disk that cannot be written; choose another folder with --out.'],
  ['EISDIR', '"x" is a folder; name a file.'],
  ['ENOTDIR', '"x" cannot be used, because a part of it is a file and not a folder; choose another folder.'],
  ['EEXIST', '"x" exists already; choose another name, or move it away first.'],
  ['ENOSPC', 'The disk of "x" is full; make room or choose another folder.'],
  ['EDQUOT', 'The disk of "x" is full; make room or choose another folder.'],
  ['ENAMETOOLONG', 'The name "x" is too long; choose a shorter one.'],
  ['EFBIG', '"x" grew too large for its disk; choose another folder.'],
  ['EBUSY', '"x" is in use by another program; close it there and try again.'],
  ['EMFILE', 'Too many files are open; close other programs and try again.'],
  ['ENFILE', 'Too many files are open; close other programs and try again.'],
  ['ELOOP', '"x" is a link that leads back to itself; choose another place.'],
  ['EIO', 'The disk of "x" failed; try another disk.'],
])('%s in a sentence', (code, words) =>
  expect(fileIssue(Object.assign(new Error(''), { code }), 'x')).toEqual({
    code: `file-${code.toLowerCase()}`,
    severity: 'error',
    path: [],
    message: words,
  }),
);

it('each font has its own file: full names as the files state them', () => {
  const names = Object.entries(installedFonts()).map(([name, bytes]) => {
    const text = Buffer.from(bytes).toString('latin1');
    const found = [
      'SourceSerif4Display-Regular',
      'SourceSerif4-BoldIt',
      'SourceSerif4-Bold',
      'SourceSerif4-Regular',
      'SourceSerif4-It',
      'Sebastian',
    ].find((one) => text.includes(one));
    return `${name}: ${found}`;
  });
  expect(names).toEqual([
    'roman: SourceSerif4-Regular',
    'italic: SourceSerif4-It',
    'bold: SourceSerif4-Bold',
    'bold-italic: SourceSerif4-BoldIt',
    'display: SourceSerif4Display-Regular',
    'music: Sebastian',
  ]);
});
