/** A program that is killed on the spot leaves the old file or the new one, whole; the next start clears away the rest. */
import { mkdirSync, mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { removeLeftBehind, temporaryName } from '../../core/disk/left-behind.js';
import { killed } from './kill.js';

// Odd moments, so that they fall into all parts of a round.
const MOMENTS = [
  ['save', 3],
  ['save', 17],
  ['save', 41],
  ['build', 60],
  ['build', 900],
  ['recovery', 7],
  ['recovery', 23],
] as const;

describe('killed', () => {
  it.each(MOMENTS)('while it goes on with %s, %i ms after its first file', async (kind, after) => {
    expect((await killed(kind, after)).faults).toEqual([]);
  });
});

describe('temporary files of others', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'twelvefold-'));
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  const own = temporaryName('book.pdf');
  // No process has this number: it is above the largest that any common system gives.
  const dead = own.replace(`-${process.pid}-`, '-4194999-');
  const elsewhere = own.replace(/\.[0-9a-f]{8}-/, '.00000000-');
  const hoursAgo = (hours: number) => new Date(Date.now() - hours * 3_600_000);

  it.each<[name: string, file: string, hours: number, left: boolean]>([
    ['of a process that is gone', dead, 0, false],
    ['of a process that lives', own, 0, true],
    ['of a process that lives, though the clock says it is old', own, 1000, true],
    ['of another computer, new', elsewhere, 47, true],
    ['of another computer, two days old', elsewhere, 49, false],
    ['of another computer, from the future', elsewhere, -1000, true],
    ['that is not ours', '.book.pdf.tmp', 1000, true],
    ['that is a file of the user', `x${dead}`, 1000, true],
    ['of a name with a line break', dead.replace('book', 'bo\nok'), 0, false],
  ])('%s', async (_, file, hours, left) => {
    writeFileSync(join(folder, file), '');
    utimesSync(join(folder, file), hoursAgo(hours), hoursAgo(hours));
    await removeLeftBehind(folder);
    expect(readdirSync(folder)).toEqual(left ? [file] : []);
    rmSync(join(folder, file), { force: true });
  });

  it('that are folders are left alone, and so is a folder that cannot be read', async () => {
    mkdirSync(join(folder, dead));
    await removeLeftBehind(folder);
    expect(readdirSync(folder)).toEqual([dead]);
    await removeLeftBehind(join(folder, 'none'));
  });

  it('have names that fit every file system', () => {
    for (const name of ['x'.repeat(300), '\u{1d11e}'.repeat(200), 'é'.repeat(255)])
      expect(Buffer.byteLength(temporaryName(name))).toBeLessThan(255);
  });
});
