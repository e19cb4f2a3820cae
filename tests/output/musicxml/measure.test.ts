/** What stands round the notes of a MusicXML measure, element by element (W3C MusicXML 4.0). */
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../../core/output/musicxml/musicxml.js';
import { frac } from '../../../core/theory/fraction.js';
import { player, realised, type Words } from '../../player/fixture.js';
import { pieceOf } from '../exported.js';

const INFO = { title: 'Wheels', work: 'A Book', author: '', copyright: '', date: '2026-03-01' };
const xml = (words: Words, instrument = 'flute'): string => musicXml([pieceOf(realised(words, player(instrument)))], INFO);
/** Texts of every element of this name. */
const all = (name: string, text: string): string[] =>
  [...text.matchAll(new RegExp(`<${name}(?: [^>]*)?>([^<]*)</${name}>`, 'g'))].map(([, inner]) => inner!);
const first = (name: string, text: string): string | undefined => all(name, text)[0];
const flat = (text: string): string => text.replace(/>\s+</g, '><');

describe('barlines (bar-style)', () => {
  it('a double bar at the turnaround, a final one at the end', () =>
    expect(all('bar-style', xml({ passes: 2 }))).toEqual(['light-light', 'light-heavy']));
  it('a final one alone in one pass', () => expect(all('bar-style', xml({}))).toEqual(['light-heavy']));
});

describe('keys', () => {
  const modes = (words: Words): string[] => {
    const text = xml(words);
    return all('fifths', text).map((fifths, i) => `${fifths} ${all('mode', text)[i]}`);
  };
  const pairs: Words = { order: { name: 'relative-pairs' }, signs: 'signature', padding: { to: 'bar', by: 'long-note' } };
  it('have their mode where they are printed', () => expect(modes(pairs).slice(0, 3)).toEqual(['0 major', '-1 major', '-2 major']));
  it('begin in minor where the first one is minor', () =>
    expect(modes({ ...pairs, order: { name: 'custom', keys: ['Am'] } })).toEqual(['-3 minor']));
  it('are none where accidentals alone are printed', () => expect(modes({})).toEqual(['0 none']));
});

describe('clefs', () => {
  it.each([
    ['flute', 'G', '2'],
    ['viola', 'C', '3'],
    ['trombone', 'F', '4'],
  ])('%s: %s on line %s', (instrument, sign, line) => {
    const text = xml({}, instrument);
    expect([first('sign', text), first('line', text)]).toEqual([sign, line]);
  });
});

describe('transposition (diatonic, chromatic, octave-change)', () => {
  it.each([
    ['alto-saxophone', '-5', '-9', undefined],
    ['clarinet-in-bb', '-1', '-2', undefined],
    ['tenor-saxophone', '-1', '-2', '-1'],
    ['baritone-saxophone', '-5', '-9', '-1'],
    ['clarinet-in-eb', '2', '3', undefined],
    ['piccolo', '0', '0', '1'],
    ['glockenspiel', '0', '0', '2'],
    ['double-bass', '0', '0', '-1'],
  ])('%s: %s, %s, %s', (instrument, diatonic, chromatic, octave) => {
    const text = xml({}, instrument);
    expect([first('diatonic', text), first('chromatic', text), first('octave-change', text)]).toEqual([diatonic, chromatic, octave]);
  });
  it('of the flute there is none', () => expect(xml({})).not.toContain('<transpose>'));
});

describe('tempo', () => {
  const tempo = (n: number, d: number, from: number, to: number): (string | undefined)[] => {
    const text = flat(xml({ tempo: { beat: frac(n, d), from, to } }));
    return [
      first('beat-unit', text),
      text.includes('<beat-unit-dot/>') ? '.' : '',
      first('per-minute', text),
      /<sound tempo="([^"]*)"/.exec(text)?.[1],
    ];
  };
  it.each([
    [1, 4, 60, 96, 'quarter', '', '60–96', '60'],
    [1, 2, 60, 60, 'half', '', '60', '120'],
    [3, 8, 40, 50, 'quarter', '.', '40–50', '60'],
    [1, 8, 60, 60, 'eighth', '', '60', '30'],
    [3, 4, 40, 40, 'half', '.', '40', '120'],
    [3, 16, 80, 80, 'eighth', '.', '80', '60'],
  ])('%d/%d from %d to %d', (n, d, from, to, ...expected) => expect(tempo(n, d, from, to)).toEqual(expected));
});

describe('notes', () => {
  it('values have their names', () => {
    const types = (rhythm: string): string[] => [...new Set(all('type', xml({ rhythm })))];
    expect(types('1/1')[0]).toBe('whole');
    expect(types('halves')[0]).toBe('half');
    expect(types('quarters')[0]).toBe('quarter');
    expect(types('eighths')[0]).toBe('eighth');
    expect(types('sixteenths')[0]).toBe('16th');
    expect(types('1/32')[0]).toBe('32nd');
  });
  it('signs have their names', () => {
    const signs = (figure: string): string[] => all('accidental', xml({ figure, order: { name: 'custom', keys: ['C'] } }));
    expect(signs('1 b3 #4 b7 bb6 ##1')).toEqual(['flat', 'sharp', 'flat', 'flat-flat', 'double-sharp']);
    expect(signs('b3 3')).toEqual(['flat', 'natural']);
  });
  it('a dynamic, degree numbers and key names stand where they are asked for', () => {
    const text = flat(xml({ dynamic: 'mp', degreeNumbers: true, order: { name: 'custom', keys: ['C'] } }));
    expect(text.match(/<dynamics><(\w+)\/><\/dynamics>/)?.[1]).toBe('mp');
    expect(all('words', text)).toEqual(['C', '1', '2', '3', '5']);
    const plain = flat(xml({ keyNames: false, degreeNumbers: false, order: { name: 'custom', keys: ['C'] } }));
    expect(all('words', plain)).toEqual([]);
    expect(plain).not.toContain('<dynamics>');
  });
});
