import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import toneMidi from '@tonejs/midi';
import { afterAll, describe, expect, it } from 'vitest';
import { newBook } from '../../core/book/template.js';
import { exportCommand } from '../../core/cli/export/export.js';
import type { ExportOptions } from '../../core/cli/export/export-options.js';
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

describe('an ensemble', () => {
  const band = {
    format: 'twelvefold-ensemble',
    version: 1,
    name: 'Duo and horn',
    level: 'advanced',
    breathing: { plan: 'staggered', tempo: 60 },
    exercises: ['walk', 'triad'],
    chairs: [
      { id: 'flute', instrument: 'flute', players: 2 },
      { id: 'horn', instrument: 'horn-in-f' },
    ],
  };
  writeFileSync(join(folder, 'band.ensemble'), JSON.stringify(band));
  const ofBand = (options: Partial<ExportOptions>): Promise<Answer> =>
    exported({ player: undefined, ensemble: 'band.ensemble', exercise: undefined, ...options });
  const HEAD = 'my-book-of-figures-duo-and-horn';
  const files = (out: string): string[] => readdirSync(join(folder, out)).sort();

  it('the score is one MusicXML file, each part one for each player', async () => {
    expect((await ofBand({ to: 'musicxml', out: 'set' })).code).toBe(0);
    expect((await ofBand({ to: 'mxl', parts: true, out: 'set' })).code).toBe(0);
    expect(files('set')).toEqual([
      `${HEAD}-flute-player-1.mxl`,
      `${HEAD}-flute-player-2.mxl`,
      `${HEAD}-horn-in-f.mxl`,
      `${HEAD}-score.musicxml`,
    ]);
    const xml = bytes(join('set', `${HEAD}-score.musicxml`)).toString();
    expect(xml.match(/<score-part id/g)?.length).toBe(2);
    expect(xml).toContain('<concert-score/>');
  });

  it('one exercise, transposed', async () => {
    await ofBand({ to: 'musicxml', exercise: 'triad', pitch: 'transposed', out: 'one-of-set' });
    expect(files('one-of-set')).toEqual([`${HEAD}-score-triad.musicxml`]);
    const xml = bytes(join('one-of-set', `${HEAD}-score-triad.musicxml`)).toString();
    expect(xml).not.toContain('concert-score');
    expect(xml).toContain('<chromatic>-7</chromatic>');
    expect(xml).toContain('<movement-title>The triad</movement-title>');
  });

  it('a chapter of one part', async () => {
    await ofBand({ to: 'musicxml', chapter: 'chords', part: ['horn'], out: 'chapter-of-set' });
    expect(files('chapter-of-set')).toEqual([`${HEAD}-horn-in-f-chords.musicxml`]);
  });

  it('MIDI is a file for each exercise: of the score, or of a chair', async () => {
    await ofBand({ to: 'midi', out: 'midi-of-set' });
    await ofBand({ to: 'midi', exercise: 'walk', part: ['flute'], countIn: '1', click: true, out: 'midi-of-set' });
    expect(files('midi-of-set')).toEqual([`${HEAD}-flute-walk.mid`, `${HEAD}-score-triad.mid`, `${HEAD}-score-walk.mid`]);
  });

  it('MIDI has the tempo for which breaths are printed, or the one asked for with its own breaths', async () => {
    await ofBand({ to: 'midi', exercise: 'walk', out: 'midi-tempo' });
    await ofBand({ to: 'midi', exercise: 'walk', tempo: '120', out: 'midi-faster' });
    const read = (out: string) => new toneMidi.Midi(bytes(join(out, `${HEAD}-score-walk.mid`)));
    const [slow, fast] = [read('midi-tempo'), read('midi-faster')];
    expect([slow, fast].map(({ header }) => header.tempos.map(({ bpm }) => Math.round(bpm)))).toEqual([[60], [120]]);
    const lengths = (file: typeof slow): number[] =>
      file.tracks.find(({ name }) => name === 'Horn in F')!.notes.map((note) => note.durationTicks);
    expect(new Set(lengths(slow)).size).toBeGreaterThan(1);
    expect(lengths(slow)).not.toEqual(lengths(fast));
  });

  it('the same bytes each time', async () => {
    await ofBand({ to: 'mxl', out: 'first' });
    await ofBand({ to: 'mxl', out: 'second' });
    expect(bytes(join('first', `${HEAD}-score.mxl`)).equals(bytes(join('second', `${HEAD}-score.mxl`)))).toBe(true);
  });

  it.each<[Partial<ExportOptions>, number, RegExp]>([
    [{ to: 'wav' }, 1, /"wav" is for a single player/],
    [{ to: 'midi', part: ['flut'] }, 1, /no chair "flut"; did you mean "flute"/],
    [{ to: 'midi', exercise: 'minor-triad' }, 1, /The ensemble plays none of what was chosen/],
    [{ to: 'musicxml', pitch: 'sounding' }, 1, /choose concert or transposed/],
    [{ to: 'midi', countIn: '99' }, 1, /count-in/],
    [{ to: 'midi', ensemble: 'gone.ensemble' }, 1, /There is no file or folder "gone.ensemble"/],
    [{ to: 'midi', ensemble: 'book.twelvefold' }, 1, /ensemble/],
    [{ to: 'midi', player: 'flute' }, 2, /say for whom/],
    [{ to: 'midi', ensemble: undefined }, 2, /say for whom/],
    [{ to: 'midi', part: ['flute'], parts: true }, 2, /choose between --part and --parts/],
    [{ to: 'musicxml', part: ['flute'], pitch: 'concert' }, 2, /--pitch is for the score/],
    [{ to: 'midi', ensemble: undefined, player: 'flute', pitch: 'concert' }, 2, /go with --ensemble/],
  ])('%j', async (options, wanted, words) => {
    const { code, out, err } = await ofBand(options);
    expect(err).toMatch(words);
    expect([code, out]).toEqual([wanted, '']);
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
