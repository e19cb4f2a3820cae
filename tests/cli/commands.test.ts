import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { smallBook } from '../book/small-book.js';
import { workbench } from './run.js';

let bench: ReturnType<typeof workbench>;
beforeAll(() => {
  bench = workbench();
  bench.write('good.twelvefold', smallBook());
});
afterAll(() => bench.clear());

describe('new', () => {
  it('writes a book that can be read, and never over another', async () => {
    const first = await bench.run(['new', 'mine']);
    expect(first).toEqual({ code: 0, out: 'Wrote mine.twelvefold. Next: twelvefold build mine.twelvefold\n', err: '' });
    const text = readFileSync(join(bench.folder, 'mine.twelvefold'), 'utf8');
    expect(readBook(text).issues).toEqual([]);
    const second = await bench.run(['new', 'mine.twelvefold']);
    expect(second.code).toBe(1);
    expect(second.err).toBe('error: "mine.twelvefold" exists already; choose another name, or move it away first.\n');
    expect(readFileSync(join(bench.folder, 'mine.twelvefold'), 'utf8')).toBe(text);
  });

  it('has a name of its own when none is given', async () => {
    expect(JSON.parse((await bench.run(['new', '--json'])).out)).toEqual({ ok: true, issues: [], file: 'my-book.twelvefold' });
  });

  it('says that a folder is missing', async () => {
    const { code, err } = await bench.run(['new', 'none/mine']);
    expect([code, err]).toEqual([1, 'error: There is no file or folder "none/mine.twelvefold"; check the name and the folder.\n']);
  });
});

describe('check', () => {
  it('counts a good book', async () => {
    const { code, out, err } = await bench.run(['check', 'good.twelvefold']);
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/^"A Small Book": 3 exercises for 1 edition, no faults\.\n\S+: \d+ pages, no faults\.\n$/);
  });

  it('answers in JSON, good or bad', async () => {
    expect(JSON.parse((await bench.run(['check', 'good.twelvefold', '--json'])).out)).toMatchObject({
      ok: true,
      issues: [],
      proofs: [{ faults: [] }],
    });
    const bad = await bench.run(['check', 'none.twelvefold', '--json']);
    expect(bad.code).toBe(1);
    expect(bad.err).toBe('');
    expect(JSON.parse(bad.out)).toMatchObject({ ok: false, issues: [{ code: 'file-enoent', path: [] }] });
  });
});

describe('show', () => {
  it('lists every note with its pitch and time', async () => {
    bench.write('song.twelvefold', {
      ...smallBook(),
      editions: ['alto-saxophone'],
      chapters: [
        {
          title: 'One',
          exercises: [{ id: 'a', title: 'A cell', figure: '1 r b3', rhythm: 'quarters', order: ['C', 'D'], start: { written: 'C' } }],
        },
      ],
    });
    const { code, out } = await bench.run(['show', 'song.twelvefold', '--exercise', 'a', '--player', 'alto-saxophone']);
    expect(code).toBe(0);
    // Written C sounds E flat, a major sixth lower.
    expect(out).toBe(
      [
        'A cell (a), 4/4',
        'Alto saxophone, intermediate, written C4 to D6',
        '',
        'note  bar  key  direction  degree  written  sounding  midi  onset  duration',
        '1     1    Cm   up         1       C5       Eb4       63    0      1/4',
        '2     1                    r                                1/4    1/4',
        '3     1                    b3      Eb5      Gb4       66    1/2    1/2',
        '4     2    Dm   up         1       D5       F4        65    1      1/4',
        '5     2                    r                                5/4    1/4',
        '6     2                    b3      F5       Ab4       68    3/2    1/2',
        '',
      ].join('\n'),
    );
  });

  it('gives the same in JSON, for another level too', async () => {
    const { out } = await bench.run([
      'show',
      'good.twelvefold',
      '--exercise',
      'c',
      '--player',
      'tuba',
      '--level',
      'professional',
      '--json',
    ]);
    const shown = JSON.parse(out);
    expect(shown).toMatchObject({
      ok: true,
      exercise: 'c',
      player: { instrument: 'tuba', level: 'professional', compass: 'D1 to F4' },
      leftOut: [],
    });
    expect(shown.notes).toHaveLength(36);
    expect(shown.notes[0]).toEqual(
      expect.objectContaining({ index: 0, statement: 1, bar: 1, degree: '1', midi: expect.any(Number), onset: '0', duration: '1/8' }),
    );
  });

  it.each([
    [['--exercise', 'zz', '--player', 'flute'], 'error: The book has no exercise "zz"; choose one of a, b, c.\n'],
    [['--exercise', 'a', '--player', 'flutte'], 'error: There is no instrument "flutte"'],
  ])('%j', async (options, sentence) => {
    const { code, err } = await bench.run(['show', 'good.twelvefold', ...options]);
    expect(code).toBe(1);
    expect(err.startsWith(sentence)).toBe(true);
  });
});

describe('lists', () => {
  it.each([
    ['instruments', 'alto-saxophone', { id: 'alto-saxophone', clef: 'treble', sounds: -9 }],
    ['figures', 'Five-note scale', { id: 'five-note-scale', degrees: '1 2 3 4 5 4 3 2 1' }],
    ['key-orders', 'C F B♭ E♭ A♭ D♭ G♭ B E A D G', { name: 'fourths', set: 12 }],
  ])('%s', async (command, words, entry) => {
    const plain = await bench.run([command]);
    expect([plain.code, plain.err]).toEqual([0, '']);
    expect(plain.out).toContain(words);
    expect(plain.out).not.toMatch(/ \n/);
    const listed = JSON.parse((await bench.run([command, '--json'])).out);
    expect(listed).toContainEqual(expect.objectContaining(entry));
  });
});

describe('build', () => {
  it('writes a PDF for each edition, the same bytes each time', async () => {
    bench.write('two.twelvefold', { ...smallBook(), editions: ['flute', 'tuba', 'flute'] });
    const first = await bench.run(['build', 'two.twelvefold', '--out', 'pdf']);
    expect(first.code).toBe(0);
    expect(first.err).not.toContain('error');
    const names = ['a-small-book-flute.pdf', 'a-small-book-tuba.pdf', 'a-small-book-flute-2.pdf'];
    expect(first.out.split('\n').map((line) => line.replace(/ \(\d+ pages, proved\)$/, ''))).toEqual([
      ...names.map((name) => `Wrote ${join('pdf', name)}`),
      expect.stringMatching(/^3 editions in pdf, \d+ pages\.$/),
      '',
    ]);
    const bytes = names.map((name) => readFileSync(join(bench.folder, 'pdf', name)));
    for (const file of bytes) {
      expect(file.subarray(0, 5).toString()).toBe('%PDF-');
      expect(file.subarray(-6).toString()).toBe('%%EOF\n');
    }
    const again = await bench.run(['build', 'two.twelvefold', '--out', 'pdf', '--edition', 'Tuba', '--json']);
    expect(JSON.parse(again.out)).toMatchObject({ ok: true, editions: [{ instrument: 'tuba', file: join('pdf', names[1] as string) }] });
    expect(readFileSync(join(bench.folder, 'pdf', names[1] as string)).equals(bytes[1] as Buffer)).toBe(true);
    expect(bench.names().filter((name) => name.endsWith('.tmp'))).toEqual([]);
  });

  it('builds the other editions when one fails', async () => {
    const chapters = [{ title: 'One', exercises: [{ id: 'a', figure: '1 15', order: 'fourths' }] }];
    bench.write('wide.twelvefold', { ...smallBook(), chapters, editions: ['horn-in-f', { instrument: 'flute', level: 'professional' }] });
    const { code, out, err } = await bench.run(['build', 'wide.twelvefold', '--out', 'wide']);
    expect(code).toBe(1);
    expect(err).toContain('error: chapter 1, exercise 1, figure: ');
    expect(err).toContain('error: the edition for horn-in-f was not written.\n');
    expect(out).toMatch(/^Wrote wide.a-small-book-flute\.pdf \(\d+ pages, proved\)\n1 edition in wide, \d+ pages; 1 not written\.\n$/);
    expect(bench.names().filter((name) => name.startsWith('wide/'))).toEqual(['wide/a-small-book-flute.pdf']);
  });

  it('shows progress only to a person who watches, and on the error stream', async () => {
    const watched = await bench.run(['build', 'good.twelvefold', '--out', 'pdf'], { watched: true });
    expect(watched.err).toMatch(/flute: page \d+ of \d+/);
    expect(watched.out).not.toContain('page 1 of');
    const quiet = await bench.run(['build', 'good.twelvefold', '--out', 'pdf', '--json'], { watched: true });
    expect(quiet.err).toBe('');
  });

  it('leaves no partial file when it is stopped while it writes', async () => {
    const stop = new AbortController();
    const before = bench.names();
    const err = (text: string) => {
      if (text.includes('page ')) stop.abort();
    };
    const answer = await bench.run(['build', 'good.twelvefold', '--out', '.'], { watched: true, signal: stop.signal, err });
    expect(answer.code).toBe(130);
    expect(bench.names()).toEqual(before);
  });
});

describe('as a program of its own', () => {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const program = (...args: string[]) =>
    spawnSync(process.execPath, [join(root, 'dist/cli/cli.js'), ...args], { cwd: root, encoding: 'utf8' });

  it.each([
    [['key-orders'], 0, /^name/, /^$/],
    [['check', 'none.twelvefold'], 1, /^none.twelvefold: 1 error/, /^error: There is no file or folder "none.twelvefold"/],
    [['nothing'], 2, /^$/, /^error: unknown command 'nothing'/],
  ])('%j ends with %i', (args, code, out, err) => {
    const result = program(...args);
    expect(result.status).toBe(code);
    expect(result.stdout).toMatch(out);
    expect(result.stderr).toMatch(err);
    expect(result.stderr).not.toMatch(/\n\s+at /);
  });

  it('stops when it is interrupted, and leaves only whole files', async () => {
    const out = join(bench.folder, 'cut');
    const demo = JSON.parse(readFileSync(join(root, 'assets/books/small-wheels.twelvefold'), 'utf8'));
    const editions = Array.from({ length: 40 }, (_, i) => demo.editions[i % demo.editions.length]);
    bench.write('many.twelvefold', { ...demo, editions });
    // By its sources, which start their threads in a way of their own.
    const args = ['--import', 'tsx', join(root, 'core/cli/main.ts'), 'build', join(bench.folder, 'many.twelvefold'), '--out', out];
    const child = spawn(process.execPath, args, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
    let err = '';
    child.stderr.on('data', (chunk) => {
      err += chunk;
    });
    // The first of forty editions is written: others are on their way.
    child.stdout.once('data', () => child.kill('SIGINT'));
    const [code] = await once(child, 'close');
    expect(code).toBe(130);
    expect(err).toContain('Stopped; nothing half-written is left.\n');
    const names = readdirSync(out);
    expect(names.length).toBeLessThan(editions.length);
    expect(names.filter((name) => !name.endsWith('.pdf'))).toEqual([]);
    for (const name of names) expect(readFileSync(join(out, name)).subarray(-6).toString()).toBe('%%EOF\n');
  });

  it('takes a reader that stops reading as the end', () => {
    const command = `"${process.execPath}" dist/cli/cli.js figures --json | head -1`;
    expect(execFileSync('/bin/sh', ['-c', command], { cwd: root, encoding: 'utf8' })).toBe('[\n');
  });
});
