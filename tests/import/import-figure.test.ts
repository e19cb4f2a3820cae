import fc from 'fast-check';
import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { figureText, parseFigure, toneInterval } from '../../core/exercise/figure.js';
import { FIGURE_LIBRARY } from '../../core/exercise/figure-library.js';
import { parseRhythm } from '../../core/exercise/rhythm.js';
import { type ImportOptions, importFigure, parseKey } from '../../core/import/import-figure.js';
import { musicXml } from '../../core/output/musicxml/musicxml.js';
import { mxl } from '../../core/output/musicxml/mxl.js';
import { midiExport } from '../../core/output/sound/midi.js';
import { type MidiEvent, midiBytes, type TimedMidi } from '../../core/output/sound/midi-codec.js';
import { perform } from '../../core/output/sound/performance.js';
import type { Line } from '../../core/player/line.js';
import { keyText } from '../../core/theory/key.js';
import { pieceOf } from '../output/exported.js';
import { codes, player, realised, tonic, value, type Words } from '../player/fixture.js';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const INFO = { title: 'A phrase', date: '2026-03-01' };
const midiOf = (line: Line): Uint8Array => midiExport('x', [value(perform(line))]);
const xmlOf = (line: Line): string => musicXml([pieceOf(line)], INFO);

/** One statement from a written tonic, for a player with room for every figure. */
const alone = (words: Words, key = 'C'): Line =>
  realised({ order: { name: 'custom', keys: [key] }, start: { kind: 'written', key: tonic(key) }, ...words }, player('flute', 'C3-C8'));

describe('what is exported comes back: every figure of the library', () => {
  const keyNamed = (line: Line) => ({ tonic: line.statements[0]!.root, mode: 'major' as const });

  it.each(['C', 'F#', 'Ab'])('from MusicXML, note for note and sign for sign, in %s', (name) => {
    for (const rhythm of ['eighths', 'eighth triplets', 'dotted quarter and eighth']) {
      for (const entry of FIGURE_LIBRARY) {
        const line = alone({ figure: entry.text, scale: entry.scale, rhythm }, name);
        const found = value(importFigure(utf8(xmlOf(line)), { key: keyNamed(line) }));
        expect(found).toMatchObject({
          figure: figureText(entry.figure.tones),
          rhythm,
          keyFrom: 'given',
          confidence: 1,
          metre: '4/4',
          title: 'A phrase',
        });
      }
    }
  });

  it('from MIDI, the same sounds and values; MIDI has no spelling', () => {
    let spelledAlike = 0;
    for (const entry of FIGURE_LIBRARY) {
      const line = alone({ figure: entry.text, scale: entry.scale });
      const found = value(importFigure(midiOf(line), { key: keyNamed(line) }));
      const semitones = (text: string) =>
        value(parseFigure(text)).tones.map((tone) => (tone.kind === 'note' ? toneInterval(tone, 'major').semitones : 'r'));
      expect(semitones(found.figure)).toEqual(semitones(entry.text));
      expect(found.rhythm).toBe('eighths');
      if (found.figure === entry.text) spelledAlike++;
    }
    expect(spelledAlike).toBeGreaterThanOrEqual(66);
  });

  it.each([
    ['with a click', { click: true }],
    ['with two bars of count-in', { countIn: 2 }],
    ['with both', { click: true, countIn: 1 }],
  ])('from MIDI %s: the same figure as without', (_, options) => {
    for (const entry of FIGURE_LIBRARY) {
      const line = alone({ figure: entry.text, scale: entry.scale });
      const clicked = midiExport('x', [value(perform(line, options))]);
      expect(clicked.length).toBeGreaterThan(midiOf(line).length);
      const [found, plain] = [clicked, midiOf(line)].map((bytes) => value(importFigure(bytes, { key: keyNamed(line) })));
      expect(found).toEqual(plain);
    }
  });

  it('from compressed MusicXML', () => {
    const line = alone({ figure: '1 b3 #4 5' });
    expect(value(importFigure(mxl(xmlOf(line), 'x', '2026-03-01'), { key: value(parseKey('C')) })).figure).toBe('1 b3 #4 5');
  });

  it('from a player who reads another pitch: MusicXML is read as written', () => {
    const line = realised(
      { figure: '1 2 3 5', order: { name: 'custom', keys: ['C'] }, start: { kind: 'written', key: tonic('A') } },
      player('alto-saxophone'),
    );
    expect(value(importFigure(utf8(xmlOf(line)), { key: value(parseKey('A')) })).figure).toBe('1 2 3 5');
  });
});

describe('rhythms come back', () => {
  it.each<[figure: string, rhythm: string, back?: string]>([
    ['1 2 3 4 5', 'eighths'],
    ['1 2 3 4', 'dotted quarter and eighth'],
    ['1 2 3 4', '1/2 1/8 1/8 1/4'],
    // The sixth is the first again.
    ['1 2 3 4 5 6', '1/4 3:2(1/8 1/8 1/8) 1/4 1/4', '1/4 3:2(1/8 1/8 1/8) 1/4'],
    ['1 2 3 4 5', 'eighth triplets'],
    ['1 2 3 4', 'long-short triplets'],
    ['1 2 3 4 5 6', 'sixteenth sextuplets'],
    ['1 2 3 4 5', '5:4(1/16 1/16 1/16 1/16 1/16)'],
    ['1 2 3', '1/4.. 1/16'],
    ['1 r 3 5', 'eighths'],
    ['r 2 3 5', 'quarters'],
    ['1 2 3 4', '1/2. 1/2'],
    ['1 2 3', '1/1 1/1. 1/2'],
  ])('%s in %s', (figure, rhythm, back = rhythm) => {
    const found = value(importFigure(utf8(xmlOf(alone({ figure, rhythm }))), { key: value(parseKey('C')) }));
    expect(found.figure).toBe(figure);
    expect(value(parseRhythm(found.rhythm)).values).toEqual(value(parseRhythm(back)).values);
  });

  it('from MIDI, with rests and triplets', () => {
    for (const [figure, rhythm] of [
      ['1 r 3 5', 'eighths'],
      ['1 2 3 4 5 6', 'eighth triplets'],
      ['1 2 3 4', '1/8. 1/16 1/4 1/4'],
    ] as const) {
      const found = value(importFigure(midiOf(alone({ figure, rhythm })), { key: value(parseKey('C')) }));
      expect(found.figure).toBe(figure);
      expect(value(parseRhythm(found.rhythm)).values.map((one) => one.duration)).toEqual(
        value(parseRhythm(rhythm)).values.map((one) => one.duration),
      );
    }
  });
});

describe('the key', () => {
  const guessed = (figure: string, words: Words = {}, key = 'C') => value(importFigure(utf8(xmlOf(alone({ figure, ...words }, key)))));

  it.each([
    ['1 2 3 4 5 6 7 8 7 6 5 4 3 2 1', 'D', 'D'],
    ['1 3 5 8 5 3 1', 'Ab', 'A♭'],
    ['1 2 b3 4 5 b6 b7 8 b7 b6 5 4 b3 2 1', 'F', 'Fm'],
    ['1 2 3 5', 'Eb', 'E♭'],
  ])('%s in %s is heard as %s, with a confidence', (figure, key, heard) => {
    const found = guessed(figure, {}, key);
    expect(keyText(found.key)).toBe(heard);
    expect(found.keyFrom).toBe('guessed');
    expect(found.confidence).toBeGreaterThan(0.4);
    expect(found.confidence).toBeLessThan(1);
    expect(found.others.length).toBe(3);
  });

  it('is right for most of the library, and wrong ones are told to be uncertain or are a near key', () => {
    const right = FIGURE_LIBRARY.filter((entry) => guessed(entry.text, { scale: entry.scale }).key.tonic.letter === 0);
    expect(right.length).toBeGreaterThanOrEqual(60);
  });

  it('comes with a warning where it is in doubt', () => {
    const result = importFigure(utf8(xmlOf(alone({ figure: '4 #2 3' }))));
    expect(result.issues.map((issue) => issue.code)).toEqual(['key-uncertain']);
  });

  it('is that of the signature where there is one', () => {
    const found = guessed('1 2 3 5', { signs: 'signature' }, 'Eb');
    expect([keyText(found.key), found.keyFrom]).toEqual(['E♭', 'signature']);
  });

  it('that is given changes the degrees', () => {
    const line = alone({ figure: '1 2 3 5' });
    expect(value(importFigure(utf8(xmlOf(line)), { key: value(parseKey('G')) })).figure).toBe('4 5 6 8');
  });

  it.each([
    ['Bb', 'B♭'],
    ['F#m', 'F♯m'],
    ['a minor', 'Am'],
    ['c major', 'C'],
    ['D maj', 'D'],
  ])('%s is read as %s', (text, key) => expect(keyText(value(parseKey(text)))).toBe(key));

  it.each(['', 'H', 'Bbb m', 'C4', 'major'])('%j is no key', (text) => expect(codes(parseKey(text))).toEqual(['unknown-key']));
});

/** A small score: what stands inside the only measure, or a whole of parts. */
const score = (inside: string, attributes = '<attributes><divisions>2</divisions></attributes>'): string =>
  `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list><part id="P1"><measure number="1">${attributes}${inside}</measure></part></score-partwise>`;
const note = (step: string, more = '', duration = 1): string =>
  `<note>${more.includes('<chord/>') ? '<chord/>' : ''}<pitch><step>${step}</step><octave>4</octave></pitch><duration>${duration}</duration>${more.replace('<chord/>', '')}</note>`;
const C = { key: value(parseKey('C')) };
const refused = (bytes: Uint8Array | string, options: ImportOptions = C): string[] =>
  codes(importFigure(typeof bytes === 'string' ? utf8(bytes) : bytes, options));

describe('music that is no figure is refused with a sentence', () => {
  it('a plain one is read', () => expect(value(importFigure(utf8(score(note('C') + note('E'))), C)).figure).toBe('1 3'));

  it.each([
    ['a chord', score(note('C') + note('E', '<chord/>')), 'chord'],
    ['a second voice', score(note('C', '<voice>1</voice>') + note('E', '<voice>2</voice>')), 'several-voices'],
    ['a step back in time', score(`${note('C')}<backup><duration>1</duration></backup>${note('E')}`), 'several-voices'],
    ['a second staff', score(note('C', '<staff>1</staff>') + note('E', '<staff>2</staff>')), 'several-voices'],
    ['percussion', score('<note><unpitched/><duration>1</duration></note>'), 'percussion'],
    ['a quarter tone', score(note('C').replace('</step>', '</step><alter>0.5</alter>')), 'microtone'],
    ['a pitch that is none', score(note('H')), 'pitch-unreadable'],
    ['no duration', score(note('C', '', 0)), 'duration-unreadable'],
    ['only rests', score('<note><rest/><duration>4</duration></note>'), 'no-notes'],
    ['nothing', score(''), 'no-notes'],
    ['65 notes', score(note('C').repeat(65)), 'phrase-too-long'],
    ['a value that is none', score(note('C', '', 5) + note('E')), 'value-unwritable'],
    ['three octaves and more', score(note('C') + note('E').replace('4</octave>', '7</octave>')), 'figure-too-wide'],
    ['another kind of XML', '<html><body/></html>', 'not-musicxml'],
    [
      'two parts',
      score(note('C')).replace('</score-partwise>', `<part id="P2"><measure number="1">${note('E')}</measure></part></score-partwise>`),
      'several-parts',
    ],
  ])('%s: %#', (_, text, code) => {
    const result = importFigure(utf8(text), C);
    expect(codes(result)).toEqual([code]);
    expect(result.issues[0]?.message).toMatch(/^[A-Z].+[.]$/);
  });

  it('grace notes are left out and told', () => {
    const grace = '<note><grace/><pitch><step>D</step><octave>4</octave></pitch></note>';
    const result = importFigure(utf8(score(note('C') + grace + note('E'))), C);
    expect(value(result).figure).toBe('1 3');
    expect(codes(result)).toEqual(['grace-notes-left-out']);
  });

  it('a last note held over by a tie is taken as it began', () => {
    const line = alone({ figure: '1 2 3 4 5 6', rhythm: 'eighth triplets', padding: { to: 'bar', by: 'long-note' } });
    const result = importFigure(utf8(xmlOf(line)), C);
    expect(value(result)).toMatchObject({ figure: '1 2 3 4 5 6', rhythm: 'eighth triplets' });
    expect(codes(result)).toEqual(['last-note-shortened']);
  });

  it('a note held out of a tuplet in mid-phrase is told by its bar', () => {
    const line = realised(
      { figure: '1 2 3', rhythm: 'eighth triplets', padding: { to: 'bar', by: 'long-note' }, order: { name: 'tritones' } },
      player('flute'),
    );
    const result = importFigure(utf8(xmlOf(line)), C);
    expect(codes(result)).toEqual(['value-unwritable']);
    expect(result.issues[0]?.message).toContain('(bar 1)');
  });

  it('a score laid out bar by bar is read too', () => {
    const text = `<score-timewise><part-list/><measure number="1"><part id="P1">${note('C')}</part></measure><measure number="2"><part id="P1">${note('G')}</part></measure></score-timewise>`;
    expect(value(importFigure(utf8(text), C)).figure).toBe('1 5');
  });

  it('UTF-16 is read by its mark', () => {
    const text = `\ufeff<?xml version="1.0" encoding="UTF-16"?>${score(note('C') + note('D'))}`;
    expect(value(importFigure(new Uint8Array(Buffer.from(text, 'utf16le')), C)).figure).toBe('1 2');
  });
});

const midi = (tracks: readonly (readonly (readonly [tick: number, event: object])[])[]): Uint8Array =>
  midiBytes(
    tracks.map((track) => track.map(([tick, event]): TimedMidi => ({ tick, event: { deltaTime: 0, ...event } as MidiEvent }))),
    480,
  );
const on = (tick: number, noteNumber: number, channel = 0) => [tick, { type: 'noteOn', channel, noteNumber, velocity: 80 }] as const;
const off = (tick: number, noteNumber: number, channel = 0) => [tick, { type: 'noteOff', channel, noteNumber, velocity: 0 }] as const;

describe('MIDI that is no figure is refused with a sentence', () => {
  it('played in a little unevenly, it is drawn to its values', () => {
    const file = midi([[on(3, 60), off(230, 60), on(243, 62), off(470, 62), on(476, 64), off(700, 64), on(722, 67), off(950, 67)]]);
    expect(value(importFigure(file, C))).toMatchObject({ figure: '1 2 3 5', rhythm: 'eighths' });
  });

  const named = (text: string) => [0, { type: 'trackName', meta: true, text }] as const;
  const melody = [on(0, 60), off(480, 60), on(480, 64), off(960, 64)];

  it('clicks beside a melody are no part of it', () => {
    expect(value(importFigure(midi([melody, [named('Click'), on(0, 76, 9), off(60, 76, 9)]]), C)).figure).toBe('1 3');
  });

  it.each([
    ['clicks alone', [[named('Click'), on(0, 76, 9), off(60, 76, 9)]], 'percussion'],
    ['drums beside a melody', [melody, [named('Drums'), on(0, 36, 9), off(60, 36, 9)]], 'percussion'],
    ['drums in the track of the melody', [[named('Click'), ...melody, on(0, 36, 9), off(60, 36, 9)]], 'percussion'],
    ['a melody that is called so', [melody, [named('Click'), on(0, 62), off(480, 62)]], 'several-voices'],
  ])('%s', (_, tracks, code) => expect(refused(midi(tracks))).toEqual([code]));

  it.each([
    ['a chord', [[on(0, 60), on(0, 64), off(480, 60), off(480, 64)]], 'chord'],
    ['notes held together', [[on(0, 60), on(240, 64), off(960, 60), off(960, 64)]], 'several-voices'],
    ['two channels', [[on(0, 60), off(480, 60), on(480, 62, 1), off(960, 62, 1)]], 'several-voices'],
    [
      'two tracks',
      [
        [on(0, 60), off(480, 60)],
        [on(480, 62), off(960, 62)],
      ],
      'several-voices',
    ],
    ['percussion', [[on(0, 36, 9), off(480, 36, 9)]], 'percussion'],
    ['bent pitches', [[[0, { type: 'pitchBend', channel: 0, value: 2000 }] as const, on(0, 60), off(480, 60)]], 'microtone'],
    ['free time', [[on(0, 60), off(190, 60), on(207, 62), off(350, 62), on(371, 64), off(480, 64)]], 'off-the-grid'],
    ['no notes', [[]], 'no-notes'],
    ['too many notes', [Array.from({ length: 70 }, (_, i) => [on(i * 240, 60), off(i * 240 + 200, 60)]).flat()], 'phrase-too-long'],
  ])('%s', (_, tracks, code) => expect(refused(midi(tracks))).toEqual([code]));
});

describe('files that are broken or hostile end in one sentence', () => {
  const whole = xmlOf(alone({ figure: '1 2 3 5' }));
  const laughs = `<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><score-partwise>&b;</score-partwise>`;
  const inMxl = (files: Record<string, Uint8Array>): Uint8Array => zipSync(files);
  const container = (path: string) => utf8(`<container><rootfiles><rootfile full-path="${path}"/></rootfiles></container>`);
  const bomb = new Uint8Array(80 * 1024 * 1024).fill(32);

  const begun = (start: string, length: number): Uint8Array => {
    const bytes = new Uint8Array(length);
    bytes.set(utf8(start));
    return bytes;
  };
  /** A file of one track with these bytes. */
  const track = (bytes: readonly number[]): Uint8Array => {
    const file = new Uint8Array(22 + bytes.length);
    file.set([...utf8('MThd'), 0, 0, 0, 6, 0, 1, 0, 1, 1, 224, ...utf8('MTrk')]);
    new DataView(file.buffer).setUint32(18, bytes.length);
    file.set(bytes, 22);
    return file;
  };

  it.each<[string, Uint8Array | string, string]>([
    ['0 bytes', new Uint8Array(0), 'file-empty'],
    ['text', 'a letter to a friend', 'not-a-score'],
    ['XML cut short', whole.slice(0, whole.length / 2), 'xml-broken'],
    ['tags crossed', '<a><b></a></b>', 'xml-broken'],
    ['an entity nobody defined', '<score-partwise>&secret;</score-partwise>', 'xml-broken'],
    ['entities that grow', laughs, 'xml-entities'],
    [
      'an entity from a file',
      '<!DOCTYPE s [<!ENTITY x SYSTEM "file:///etc/hostname">]><score-partwise>&x;</score-partwise>',
      'xml-entities',
    ],
    ['nested without end', '<a>'.repeat(100_000), 'xml-too-deep'],
    ['elements without end', `<a>${'<b/>'.repeat(450_000)}</a>`, 'file-too-large'],
    ['attributes without end', `<a ${Array.from({ length: 200_000 }, (_, i) => `b${i}=""`).join(' ')}/>`, 'file-too-large'],
    ['one attribute over and over', `<a ${'b="" '.repeat(500_000)}/>`, 'file-too-large'],
    ['a type declaration without end', `<!DOCTYPE ${'x'.repeat(1 << 22)}`, 'xml-broken'],
    ['parts of entities', '<!DOCTYPE a SYSTEM "x.dtd" [<!ENTITY % p "x">%p;]><a/>', 'xml-entities'],
    ['bytes that are no text', new Uint8Array([0x3c, 0x61, 0x3e, 0xff, 0xfe, 0xff]), 'xml-encoding'],
    ['an encoding nobody knows', '<?xml version="1.0" encoding="klingon"?><a/>', 'xml-encoding'],
    ['an archive cut short', mxl(whole, 'x', '2026-03-01').subarray(0, 400), 'archive-broken'],
    ['an archive without a container', inMxl({ 'a.txt': utf8('a') }), 'archive-without-score'],
    ['a container that names nothing', inMxl({ 'META-INF/container.xml': container('gone.xml') }), 'archive-without-score'],
    ['an archive that names its own container', inMxl({ 'META-INF/container.xml': container('META-INF/container.xml') }), 'not-musicxml'],
    ['an archive that names a file outside', inMxl({ 'META-INF/container.xml': container('../../x.xml') }), 'archive-without-score'],
    ['32 MB that only begin like an archive', begun('PK', 32 << 20), 'archive-without-score'],
    ['an archive that unpacks to 80 MB', inMxl({ 'META-INF/container.xml': container('x.xml'), 'x.xml': bomb }), 'archive-too-large'],
    [
      'an archive of 300 files',
      inMxl(Object.fromEntries(Array.from({ length: 300 }, (_, i) => [`f${i}`, utf8('a')]))),
      'archive-too-large',
    ],
    ['a MIDI header alone', 'MThd', 'midi-broken'],
    [
      'a track that claims four gigabytes',
      new Uint8Array([...utf8('MThd'), 0, 0, 0, 6, 0, 1, 0, 1, 1, 224, ...utf8('MTrk'), 255, 255, 255, 255]),
      'midi-broken',
    ],
    ['65535 tracks', new Uint8Array([...utf8('MThd'), 0, 0, 0, 6, 0, 1, 255, 255, 1, 224]), 'midi-broken'],
    [
      'film frames',
      new Uint8Array([...utf8('MThd'), 0, 0, 0, 6, 0, 0, 0, 1, 0xe7, 40, ...utf8('MTrk'), 0, 0, 0, 4, 0, 255, 47, 0]),
      'midi-frames',
    ],
    ['a megabyte of nothing behind a MIDI header', begun('MThd', 1 << 20), 'midi-broken'],
    ['a track of a number that does not end', track([...Array.from({ length: 5000 }, () => 255), 0, 255, 47, 0]), 'no-notes'],
    ['a megabyte of notes', track(Array.from({ length: 130_000 }, () => [0, 0x90, 60, 64, 10, 0x90, 61, 64]).flat()), 'phrase-too-long'],
    ['a megabyte of drums', track(Array.from({ length: 260_000 }, () => [0, 0x99, 36, 64]).flat()), 'percussion'],
    ['two megabytes of MIDI', new Uint8Array([...utf8('MThd'), ...new Uint8Array(2 << 20)]), 'file-too-large'],
  ])('%s', (_, bytes, code) => expect(refused(bytes)).toEqual([code]));

  it('an archive that lies about the size of its file is given up all the same', () => {
    const file = inMxl({ 'META-INF/container.xml': container('x.xml'), 'x.xml': bomb });
    const view = new DataView(file.buffer);
    // Local header: signature, then the unpacked size 22 bytes in.
    for (let at = 0; at + 30 < file.length; at++) if (view.getUint32(at, true) === 0x04034b50) view.setUint32(at + 22, 100, true);
    expect(refused(file)).toEqual(['archive-too-large']);
  });

  it('a type declaration without entities is nothing bad', () => {
    expect(whole).toContain('<!DOCTYPE');
    expect(importFigure(utf8(whole), C).ok).toBe(true);
  });

  it('whatever the bytes are, the answer is a figure or an Issue', () => {
    const seeds = [utf8(whole), mxl(whole, 'x', '2026-03-01'), midiOf(alone({ figure: '1 2 3 5' }))];
    const damaged = fc.record({
      seed: fc.constantFrom(...seeds),
      cut: fc.double({ min: 0, max: 1, noNaN: true }),
      hits: fc.array(fc.tuple(fc.double({ min: 0, max: 0.999, noNaN: true }), fc.integer({ min: 0, max: 255 })), { maxLength: 8 }),
    });
    fc.assert(
      fc.property(damaged, ({ seed, cut, hits }) => {
        const bytes = seed.slice(0, Math.ceil(seed.length * Math.max(0.2, cut)));
        for (const [place, byte] of hits) bytes[Math.floor(place * bytes.length)] = byte;
        const result = importFigure(bytes);
        expect(result.ok || result.issues.length > 0).toBe(true);
      }),
      { numRuns: 300, seed: 12 },
    );
  });
});
