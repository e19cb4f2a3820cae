import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { newBook } from '../../core/book/template.js';
import { type ExportOptions, exportCommand } from '../../core/cli/export.js';
import { importFigureCommand } from '../../core/cli/import-figure.js';
import type { Terminal } from '../../core/cli/terminal.js';

const folder = mkdtempSync(join(tmpdir(), 'twelvefold-export-'));
afterAll(() => rmSync(folder, { recursive: true }));
writeFileSync(join(folder, 'book.twelvefold'), JSON.stringify(newBook('2026-03-01')));

type Answer = { readonly code: number; readonly out: string; readonly err: string };

async function answer(run: (terminal: Terminal) => Promise<number>): Promise<Answer> {
  let [out, err] = ['', ''];
  const code = await run({
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    cwd: folder,
    watched: false,
    signal: new AbortController().signal,
    today: '2026-03-01',
  });
  return { code, out, err };
}

const exported = (options: Partial<ExportOptions>, name = 'book.twelvefold'): Promise<Answer> =>
  answer((terminal) => exportCommand(name, { to: 'text', player: 'flute', exercise: 'walk', ...options }, terminal));
const imported = (name: string, options: { key?: string; json?: boolean } = {}): Promise<Answer> =>
  answer((terminal) => importFigureCommand(name, options, terminal));

const bytes = (name: string): Buffer => readFileSync(join(folder, name));
const STEM = 'my-book-of-figures-flute-walk';

describe('one exercise in every format', () => {
  it.each([
    ['musicxml', `${STEM}.musicxml`, '<?xml'],
    ['mxl', `${STEM}.mxl`, 'PK'],
    ['midi', `${STEM}.mid`, 'MThd'],
    ['wav', `${STEM}.wav`, 'RIFF'],
    ['svg', `${STEM}.svg`, '<svg'],
    ['png', `${STEM}.png`, '\x89PNG'],
    ['brf', `${STEM}.brf`, ',A SHORT'],
    ['braille', `${STEM}.braille.txt`, '⠠⠁'],
    ['text', `${STEM}.txt`, 'A short walk.'],
  ])('%s: %s', async (to, name, start) => {
    const found = await exported({ to, out: 'all' });
    expect(found).toMatchObject({ code: 0, out: `Wrote ${join('all', name)}\n` });
    expect(bytes(join('all', name)).toString(to === 'png' ? 'latin1' : 'utf8')).toSatisfy((text: string) => text.startsWith(start));
  });

  it('the same bytes each time', async () => {
    for (const to of ['mxl', 'midi', 'png', 'wav']) {
      const ending = to === 'midi' ? 'mid' : to;
      await exported({ to, out: 'again' });
      expect(bytes(join('again', `${STEM}.${ending}`)).equals(bytes(join('all', `${STEM}.${ending}`)))).toBe(true);
    }
  });

  it('MusicXML has the systems and breath marks of the edition', async () => {
    await exported({ to: 'musicxml', out: 'all' });
    const xml = bytes(join('all', `${STEM}.musicxml`)).toString();
    expect(xml).toContain('<print new-system="yes"/>');
    expect(xml).toContain('<breath-mark placement="above">comma</breath-mark>');
    expect(xml).toContain('<encoding-date>2026-03-01</encoding-date>');
  });
});

describe('more than one', () => {
  it('a chapter is one MusicXML file', async () => {
    const { out } = await exported({ to: 'musicxml', exercise: undefined, chapter: 'chords', out: 'chapter' });
    expect(out).toBe(`Wrote ${join('chapter', 'my-book-of-figures-flute-chords.musicxml')}\n`);
    const xml = bytes(join('chapter', 'my-book-of-figures-flute-chords.musicxml')).toString();
    expect(xml).toContain('>The triad</words>');
    expect(xml).toContain('>The minor triad</words>');
  });

  it('a book is a text for each exercise', async () => {
    const { code } = await exported({ exercise: undefined, out: 'texts' });
    expect(code).toBe(0);
    expect(readdirSync(join(folder, 'texts')).length).toBe(4);
  });

  it('one slide a key', async () => {
    const { out } = await exported({ to: 'svg', exercise: 'triad', eachKey: true, dark: true, shape: '9:16', out: 'keys' });
    expect(out.split('\n').filter(Boolean).length).toBe(6);
  });

  it('a ladder is longer than one run, and tells its files in JSON', async () => {
    await exported({ to: 'wav', out: 'one', tempo: '120' });
    const { out } = await exported({
      to: 'wav',
      out: 'ladder',
      ladder: '3',
      countIn: '1',
      click: true,
      drone: true,
      a4: '442',
      rate: '48000',
      json: true,
    });
    expect(JSON.parse(out)).toMatchObject({ ok: true, files: [join('ladder', `${STEM}.wav`)] });
    expect(bytes(join('ladder', `${STEM}.wav`)).length).toBeGreaterThan(3 * bytes(join('one', `${STEM}.wav`)).length);
  });
});

describe('wishes that make no sense', () => {
  it.each<[Partial<ExportOptions>, RegExp]>([
    [{ to: 'mp3' }, /no format "mp3"/],
    [{ to: 'musixml' }, /did you mean "musicxml"/],
    [{ exercise: 'wlak' }, /did you mean "walk"/],
    [{ exercise: undefined, chapter: 'chord' }, /did you mean "chords"/],
    [{ player: 'flut' }, /flute/],
    [{ to: 'wav', tempo: 'fast' }, /--tempo "fast" is not a number/],
    [{ to: 'wav', tempo: '-3' }, /makes no sense/],
    [{ to: 'wav', a4: '300' }, /415 to 466/],
    [{ to: 'wav', rate: '8000' }, /choose 44100 or 48000/],
    [{ to: 'midi', countIn: '77' }, /count-in/],
    [{ to: 'svg', shape: '4:3' }, /choose 16:9 or 9:16/],
    [{ to: 'png', size: '720' }, /choose 1080 or 2160/],
    [{ out: 'book.twelvefold' }, /is a file, not a folder/],
  ])('%j', async (options, words) => {
    const { code, out, err } = await exported(options);
    expect(code).toBe(1);
    expect(out).toBe('');
    expect(err).toMatch(words);
  });

  it('a book that is not there', async () => expect((await exported({}, 'gone.twelvefold')).err).toMatch(/There is no file/));
});

describe('import-figure', () => {
  it('a whole exercise is too much: a figure is one phrase', async () => {
    await exported({ to: 'musicxml', exercise: 'walk', out: 'in' });
    const found = await imported(join('in', 'my-book-of-figures-flute-walk.musicxml'));
    expect(found).toMatchObject({ code: 1, out: '' });
    expect(found.err).toMatch(/more than the 64 notes/);
  });

  it('reads a phrase', async () => {
    const note = (step: string) => `<note><pitch><step>${step}</step><octave>4</octave></pitch><duration>1</duration></note>`;
    const measure = `<attributes><divisions>2</divisions></attributes>${[...'CDEG'].map(note).join('')}`;
    writeFileSync(
      join(folder, 'p.musicxml'),
      `<score-partwise><part id="a"><measure number="1">${measure}</measure></part></score-partwise>`,
    );
    expect((await imported('p.musicxml', { key: 'C' })).out).toBe('Figure: 1 2 3 5\nRhythm: eighths\nKey:    C major (as you said)\n');
    const json = JSON.parse((await imported('p.musicxml', { json: true })).out);
    expect(json).toMatchObject({ ok: true, keyFrom: 'guessed' });
    expect(json.confidence).toBeGreaterThan(0);
  });

  it.each<[string, { key?: string }, RegExp]>([
    ['gone.mid', {}, /There is no file/],
    ['.', {}, /not a plain file/],
    ['book.twelvefold', {}, /neither MusicXML nor MIDI/],
    ['p.musicxml', { key: 'H' }, /not a key/],
  ])('%s %j', async (name, options, words) => {
    const { code, err } = await imported(name, options);
    expect(code).toBe(1);
    expect(err).toMatch(words);
  });
});
