import { unzipSync } from 'fflate';
import { beforeAll, describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { transposeElement } from '../../core/output/musicxml/measure.js';
import { musicXml } from '../../core/output/musicxml/musicxml.js';
import { mxl } from '../../core/output/musicxml/mxl.js';
import type { XmlElement } from '../../core/output/musicxml/xml-tree.js';
import type { NotatedExercise } from '../../core/output/notated-exercise.js';
import { INSTRUMENTS, instrumentById } from '../../core/player/catalogue.js';
import type { Line } from '../../core/player/line.js';
import { add, ZERO } from '../../core/theory/fraction.js';
import { pitchName } from '../../core/theory/pitch.js';
import { player, realised, value } from '../player/fixture.js';
import { demoLines, kindLines, pieceOf } from './exported.js';
import { openSchema, soundIds } from './musicxml-schema.js';
import { expectSame, type Heard, openReader, type Reader } from './verovio-notes.js';

const INFO = { title: 'Wheels', work: 'A Book & More', author: 'A. Writer', copyright: '© 2026 <A. Writer>', date: '2026-03-01' };
const exported = (line: Line, more: Partial<NotatedExercise> = {}): string => musicXml([pieceOf(line, more)], INFO);

describe('the W3C schema of MusicXML 4.0, read by libxml2', () => {
  let faults: (xml: string) => string[];
  beforeAll(() => {
    faults = openSchema();
  });

  it('every kind of line is valid', () => {
    for (const line of kindLines()) expect(faults(exported(line, { systems: [0, 2], pages: [2] }))).toEqual([]);
  });

  it('a whole demo book is valid, with paper, breaths and several staves', () => {
    const lines = demoLines([0]);
    const pieces = lines.map((line) => {
      const [own] = pieceOf(line).lines;
      const breathed = { line, score: barsOf(line, new Map([[3, { parenthesised: true }]])) };
      return { title: `No. 1: ${line.exercise.title}`, lines: [breathed, own!] };
    });
    const paper = { width: 215.9, height: 279.4, margins: { top: 18, bottom: 18, inner: 22, outer: 15 }, staff: 7.5 };
    expect(pieces.length).toBeGreaterThan(5);
    expect(faults(musicXml(pieces, { ...INFO, paper }))).toEqual([]);
  });

  it('a score of more sounds than a port has channels is valid, and has a second port', () => {
    const lines = INSTRUMENTS.map(({ id }) => pieceOf(realised({ figure: '1' }, player(id))).lines[0]!);
    expect(new Set(INSTRUMENTS.map(({ midiProgram }) => midiProgram)).size).toBeGreaterThan(15);
    const xml = musicXml([{ title: 'All', lines }], INFO);
    expect(faults(xml)).toEqual([]);
    expect(xml).toContain('port="2"');
  });

  it('a wrong order of elements is found', () => {
    const wrong = exported(kindLines()[0] as Line).replace(
      /<step>(.)<\/step>\s*((?:<alter>.*<\/alter>)?\s*)<octave>(.)<\/octave>/,
      '<octave>$3</octave>$2<step>$1</step>',
    );
    expect(faults(wrong).join()).toMatch(/octave/);
  });

  it('every sound id is in the W3C list', () => {
    const ids = soundIds();
    expect(ids.size).toBeGreaterThan(800);
    expect(INSTRUMENTS.map(({ soundId }) => soundId).filter((id) => !ids.has(id))).toEqual([]);
    // Plausible ids that the list does not have.
    expect(['wind.flutes.piccolo', 'wind.flutes.recorder.treble'].filter((id) => ids.has(id))).toEqual([]);
  });
});

const ours = (line: Line): Heard[] =>
  line.events.flatMap((event) =>
    event.kind === 'rest'
      ? []
      : [
          {
            name: pitchName(event.written),
            onset: (4 * event.onset.n) / event.onset.d,
            duration: (4 * event.duration.n) / event.duration.d,
          },
        ],
  );

describe('an independent reader (verovio) reads the same notes', () => {
  let read: Reader;
  beforeAll(async () => {
    read = await openReader();
  });
  const heard = (xml: string): Heard[] => read(xml)[0] ?? [];

  it('of every kind of line', () => {
    for (const line of kindLines()) expectSame(heard(exported(line)), ours(line));
  });

  it('of every exercise of the demo books', () => {
    const lines = demoLines([0, 2]);
    expect(lines.length).toBeGreaterThan(20);
    for (const line of lines) expectSame(heard(exported(line)), ours(line));
  });

  it('of two exercises in one file, one after the other', () => {
    const [, a, b] = kindLines() as [Line, Line, Line];
    const shift = (4 * a.duration.n) / a.duration.d;
    const found = heard(musicXml([pieceOf(a), pieceOf(b)], INFO));
    expectSame(found, [...ours(a), ...ours(b).map((one) => ({ ...one, onset: one.onset + shift }))]);
  });

  it('and a wrong pitch is seen', () => {
    const line = kindLines()[0] as Line;
    const wrong = exported(line).replace('<octave>4</octave>', '<octave>5</octave>');
    expect(heard(wrong)).not.toEqual(heard(exported(line)));
  });
});

/** diatonic, chromatic, octave-change. */
function transposeText(id: string): string {
  const found = transposeElement(value(instrumentById(id)).transposition);
  return found ? (found.children as readonly XmlElement[]).map((child) => child.children).join(' ') : 'none';
}

describe('transposition by the sign convention of the W3C', () => {
  // W3C MusicXML 4.0, transpose: what is added to the written pitch; octave-change only for an octave or more.
  it.each([
    ['flute', 'none'],
    ['alto-saxophone', '-5 -9'],
    ['baritone-saxophone', '-5 -9 -1'],
    ['tenor-saxophone', '-1 -2 -1'],
    ['horn-in-f', '-4 -7'],
    ['clarinet-in-eb', '2 3'],
    ['guitar', '0 0 -1'],
    ['piccolo', '0 0 1'],
    ['glockenspiel', '0 0 2'],
  ])('%s: %s', (id, text) => expect(transposeText(id)).toBe(text));
});

describe('what is printed', () => {
  const [first, tripletLine, signature] = kindLines() as [Line, Line, Line];
  const xml = exported(first, { systems: [0, 2, 4], pages: [4] });

  it('has breaks where the systems and pages begin, and none before the first bar', () => {
    const breaks = [...xml.matchAll(/<measure number="(\d+)"[^>]*>\s*<print new-(system|page)="yes"\/>/g)].map((m) => `${m[1]} ${m[2]}`);
    expect(breaks).toEqual(['3 system', '5 page']);
  });

  it('has names of keys, degrees, tempo, dynamic, slurs and dots', () => {
    const words = [...xml.matchAll(/<words[^>]*>([^<]*)</g)].map((m) => m[1]);
    expect(words.slice(0, 6)).toEqual(['C', '1', '2', '3', '5', 'F']);
    for (const part of ['<per-minute>60–96</per-minute>', '<sound tempo="60"/>', '<mf/>', '<staccato/>']) expect(xml).toContain(part);
    expect(xml.match(/<slur type="start"/g)?.length).toBe(12);
    expect(xml.match(/<slur type="stop"/g)?.length).toBe(12);
  });

  it('has a signature with its mode, or none', () => {
    expect(exported(signature)).toMatch(/<fifths>-1<\/fifths>\s*<mode>major<\/mode>/);
    expect(exported(first)).toMatch(/<fifths>0<\/fifths>\s*<mode>none<\/mode>/);
  });

  it('has a breath mark on the note before the breath', () => {
    const score = barsOf(first, new Map([[5, { parenthesised: false }]]));
    const marked = musicXml([{ title: '', lines: [{ line: first, score }] }], INFO);
    const notes = marked.split('<note>').slice(1);
    expect(notes.findIndex((note) => note.includes('breath-mark'))).toBe(5);
  });

  // Where the sign of each clef stands: W3C MusicXML 4.0, clef-sign. Programs: General MIDI, counted from 1.
  it.each([
    ['flute', 'G 2', 74, 'wind.flutes.flute'],
    ['viola', 'C 3', 42, 'strings.viola'],
    ['trombone', 'F 4', 58, 'brass.trombone.tenor'],
    ['tuba', 'F 4', 59, 'brass.tuba'],
  ])('%s: clef %s, program %i, %s', (id, clef, program, sound) => {
    const own = exported(realised({}, player(id)));
    const [, sign, line] = /<clef>\s*<sign>(.)<\/sign>\s*<line>(\d)<\/line>/.exec(own) as RegExpExecArray;
    expect(`${sign} ${line}`).toBe(clef);
    expect(own).toContain(`<midi-program>${program}</midi-program>`);
    expect(own).toContain(`<instrument-sound>${sound}</instrument-sound>`);
    expect(own).toContain(`<part-name>${value(instrumentById(id)).name}</part-name>`);
  });

  it('has the beams of dotted rhythms on both levels, with hooks', () => {
    const own = exported(realised({ figure: '1 2 3 4', rhythm: '1/8. 1/16 1/16 1/8.', metre: '2/4' }, player('flute')));
    const beams = own
      .split('<note>')
      .slice(1, 5)
      .map((note) => [...note.matchAll(/<beam number="(\d)">([a-z ]+)</g)].map(([, level, what]) => `${level} ${what}`).join(', '));
    expect(beams).toEqual(['1 begin', '1 end, 2 backward hook', '1 begin, 2 forward hook', '1 end']);
  });

  it('has tuplets that begin and end', () => {
    const text = exported(tripletLine);
    expect(text.match(/<tuplet type="start"/g)?.length).toBe(text.match(/<tuplet type="stop"/g)?.length);
  });

  it('keeps odd characters of titles out of the markup', () => {
    expect(xml).toContain('<work-title>A Book &amp; More</work-title>');
    expect(xml).toContain('© 2026 &lt;A. Writer&gt;');
  });

  it('is the same text twice', () => {
    expect(exported(first)).toBe(exported(kindLines()[0] as Line));
  });
});

describe('compressed', () => {
  const xml = exported(kindLines()[0] as Line);

  it('has its type first and stored, and a container that names the score', () => {
    const bytes = mxl(xml, 'wheels', '2026-03-01');
    const files = unzipSync(bytes);
    expect(Object.keys(files)).toEqual(['mimetype', 'META-INF/container.xml', 'wheels.musicxml']);
    expect(new TextDecoder().decode(bytes.subarray(30, 38))).toBe('mimetype');
    expect(new TextDecoder().decode(bytes.subarray(38, 72))).toBe('application/vnd.recordare.musicxml');
    expect(new TextDecoder().decode(files['META-INF/container.xml'])).toContain('full-path="wheels.musicxml"');
    expect(new TextDecoder().decode(files['wheels.musicxml'])).toBe(xml);
  });

  it('is the same bytes twice, and dated as the book', () => {
    expect(mxl(xml, 'a', '2026-03-01')).toEqual(mxl(xml, 'a', '2026-03-01'));
    expect(mxl(xml, 'a', '2026-03-01')).not.toEqual(mxl(xml, 'a', '2026-03-02'));
  });
});

it('the lines of these tests are whole', () => {
  for (const line of kindLines()) expect(line.events.reduce((end, event) => add(end, event.duration), ZERO)).toEqual(line.duration);
});
