/** Whatever a title or a name says, files are written in the output folder and nowhere else. */
import { lstatSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, relative, resolve, sep } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { editionStems, slug } from '../../core/base/file-name.js';
import { readBook } from '../../core/book/read.js';
import { writeTextSafely } from '../../core/disk/files.js';
import { ensembleBookOf, ensembleStems } from '../../core/ensemble/ensemble-book.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { bookletStems } from '../../core/people/booklet-names.js';
import { readRoster } from '../../core/people/read.js';
import { smallBook } from '../book/small-book.js';
import { workbench } from '../cli/run.js';
import { TITLES } from './hostile.js';

/** Names reserved by a common system, with any ending (Microsoft, "Naming Files, Paths, and Namespaces"). */
const DEVICE = /^(?:con|prn|aux|nul|com[0-9]|lpt[0-9]|conin\$|conout\$)(?:\.|$)/i;

/** What is wrong with the name of a file. */
function unsafe(name: string): string | undefined {
  if (name !== basename(name) || /[\\/:*?"<>|\p{C}]/u.test(name)) return 'it has a sign that means something in a path';
  if (relative(resolve('/out'), resolve('/out', name)).startsWith('..')) return 'it leads out of its folder';
  if (DEVICE.test(name)) return 'it is the name of a device';
  if (/^[.\-~ ]|[. ]$/.test(name)) return 'it begins or ends with a sign that some systems drop or read as an option';
  // 255 bytes are the most on common file systems; a temporary file is named before it is renamed.
  if (Buffer.byteLength(name) > 250) return 'it is too long';
  return undefined;
}

const book = (title: string) => {
  const result = readBook(JSON.stringify({ ...smallBook(), title }));
  if (!result.ok) throw new Error(result.issues.map((issue) => issue.message).join());
  return result.value;
};

const plain = book('A Small Book');

describe('names of files from hostile words', () => {
  it('the words are hostile', () => {
    const harmless = ['name.pdf.exe', '%2e%2e%2foutside', 'x'.repeat(200), 'tr\u0131ck\u0130'];
    expect(TITLES.filter((title) => unsafe(title) === undefined)).toEqual(harmless);
  });

  it.each(TITLES)('%j', (title) => {
    const ensemble = readEnsemble(
      JSON.stringify({
        format: 'twelvefold-ensemble',
        version: 1,
        name: title.slice(0, 60),
        chairs: [
          { id: 'a', instrument: 'flute', name: title.slice(0, 30) },
          { id: 'b', instrument: 'oboe', name: title.slice(0, 30) },
        ],
      }),
      plain,
    );
    const roster = readRoster(
      JSON.stringify({
        format: 'twelvefold-roster',
        version: 1,
        students: [
          { name: title, instrument: 'flute' },
          { name: `${title} 2`, instrument: 'oboe' },
        ],
      }),
      plain,
    );
    const parts = ensemble.ok ? ensembleStems(ensembleBookOf(book(title), ensemble.value)) : undefined;
    // Some of these are no names; those that are read get a safe file.
    const booklets = roster.ok ? bookletStems(book(title), roster.value) : [];
    const stems = [
      slug(title),
      ...editionStems(title, [title, title]),
      ...(parts ? [parts.score, ...parts.copies.values()] : []),
      ...booklets,
    ];
    expect(new Set(stems.slice(1)).size).toBe(stems.length - 1);
    for (const stem of stems) expect([stem, unsafe(`${stem}.pdf`)]).toEqual([stem, undefined]);
  });

  it('nearly all are read as names, so that they are tried', () => {
    const read = TITLES.filter(
      (name) =>
        readRoster(JSON.stringify({ format: 'twelvefold-roster', version: 1, students: [{ name, instrument: 'flute' }] }), plain).ok,
    );
    expect(read.length).toBeGreaterThan(TITLES.length - 3);
  });
});

describe('what is written', () => {
  let bench: ReturnType<typeof workbench>;
  beforeEach(() => {
    bench = workbench();
    mkdirSync(join(bench.folder, 'in'));
  });
  afterEach(() => bench.clear());

  const chapters = (id: string) => [{ id: 'c', title: 'C', exercises: [{ id, figure: '1 2', order: ['C'] }] }];

  it.each(['../../../../tmp/twelvefold-outside', 'LPT1', 'C:\\outside', '$(touch outside)', '\u{1d11e}'.repeat(100)])(
    'by export, from %j',
    async (title) => {
      bench.write('in/book.twelvefold', { ...smallBook(), title, chapters: chapters('NUL') });
      const { code } = await bench.run(['export', 'in/book.twelvefold', '--to', 'text', '--player', 'flute', '--out', 'in/out']);
      expect(code).toBe(0);
      const names = bench.names().filter((name) => !['in', 'in/book.twelvefold', 'in/out'].includes(name.split(sep).join('/')));
      expect(names).toHaveLength(1);
      for (const name of names) {
        expect(name.startsWith(join('in', 'out') + sep)).toBe(true);
        expect(unsafe(basename(name))).toBeUndefined();
      }
    },
  );

  it('by a build, from a title that leads out', async () => {
    bench.write('in/book.twelvefold', { ...smallBook(), title: '../../outside', chapters: chapters('x') });
    expect((await bench.run(['build', 'in/book.twelvefold', '--out', 'in/out'])).code).toBe(0);
    expect(bench.names().map((name) => name.split(sep).join('/'))).toEqual([
      'in',
      'in/book.twelvefold',
      'in/out',
      'in/out/outside-flute.pdf',
    ]);
  });

  it.each(['../x', 'a/b', 'con\u0000', '..', '/etc/passwd', 'a\\b'])('an exercise cannot be called %j', (id) => {
    const result = readBook(JSON.stringify({ ...smallBook(), chapters: chapters(id) }));
    expect(result.issues[0]).toMatchObject({ severity: 'error', path: ['chapters', 0, 'exercises', 0, 'id'] });
  });

  it('a link in the output folder is replaced, and what it leads to is left alone', async () => {
    const outside = mkdtempSync(join(tmpdir(), 'twelvefold-outside-'));
    writeFileSync(join(outside, 'precious'), 'precious');
    bench.write('in/book.twelvefold', { ...smallBook(), title: 'Book', chapters: chapters('x') });
    mkdirSync(join(bench.folder, 'out'));
    for (const name of ['book-flute.pdf', 'book-flute-x.txt']) symlinkSync(join(outside, 'precious'), join(bench.folder, 'out', name));
    expect((await bench.run(['build', 'in/book.twelvefold', '--out', 'out'])).code).toBe(0);
    expect((await bench.run(['export', 'in/book.twelvefold', '--to', 'text', '--player', 'flute', '--out', 'out'])).code).toBe(0);
    expect(readFileSync(join(outside, 'precious'), 'utf8')).toBe('precious');
    expect(readdirSync(outside)).toEqual(['precious']);
    for (const name of ['book-flute.pdf', 'book-flute-x.txt']) expect(lstatSync(join(bench.folder, 'out', name)).isFile()).toBe(true);
    rmSync(outside, { recursive: true });
  });

  it('a saved book that is a link stays one: it is the file that its user opened', async () => {
    const real = join(realpathSync(bench.folder), 'in', 'real');
    writeFileSync(real, 'old');
    symlinkSync(real, join(bench.folder, 'link'));
    await writeTextSafely(join(bench.folder, 'link'), 'new');
    expect(readFileSync(real, 'utf8')).toBe('new');
    await writeTextSafely(join(bench.folder, 'link'), 'newer', { inFolder: true });
    expect([readFileSync(real, 'utf8'), readFileSync(join(bench.folder, 'link'), 'utf8')]).toEqual(['new', 'newer']);
  });
});
