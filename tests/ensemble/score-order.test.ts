import { describe, expect, it } from 'vitest';
import type { Chair } from '../../core/ensemble/ensemble.js';
import { innerGroups, scoreOrder, sections } from '../../core/ensemble/score-order.js';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import { playerOf } from '../../core/player/compass.js';
import { value } from '../player/fixture.js';
import { band, demoBook } from './band.js';

const book = demoBook('small-wheels');

/** Chairs named in any order come out in this one. */
const LISTS = {
  // jhcband.org, glossary, score order; scribd 472626903.
  band: 'piccolo flute oboe english-horn bassoon clarinet-in-eb clarinet-in-bb bass-clarinet soprano-saxophone alto-saxophone tenor-saxophone baritone-saxophone cornet-in-bb trumpet-in-bb flugelhorn-in-bb horn-in-f trombone euphonium-bass-clef tuba double-bass glockenspiel',
  // scribd 472626903; hansenmedia.net, order of instruments; saxophones between clarinet and bassoon.
  orchestra:
    'piccolo flute oboe english-horn clarinet-in-bb bass-clarinet alto-saxophone bassoon horn-in-f trumpet-in-c trombone bass-trombone tuba glockenspiel xylophone piano-right-hand violin viola cello double-bass',
  // High to low inside each family: common practice for consorts.
  'high-to-low': 'soprano-recorder alto-recorder tenor-recorder bass-recorder',
} as const;

const idsOf = (chairs: readonly Chair[], order: keyof typeof LISTS): string =>
  scoreOrder(chairs, order)
    .map((i) => chairs[i]?.player.instrument.id)
    .join(' ');

describe.each(Object.entries(LISTS))('%s order', (name, list) => {
  it('is the published one, whatever order the chairs come in', () => {
    const order = name as keyof typeof LISTS;
    const words = list.split(' ');
    const shuffled = words.map((word, i) => ({ word, key: (i * 7919) % 101 })).sort((a, b) => a.key - b.key);
    for (const chairs of [words, [...words].reverse(), shuffled.map(({ word }) => word)])
      expect(idsOf(band(book, chairs.join(' '), { level: 'professional' }).chairs, order)).toBe(list);
  });
});

// Every instrument: the published places, and those of the house where the lists name none (recorders, guitar; two trumpets).
describe('all instruments', () => {
  const high = 'soprano-recorder alto-recorder tenor-recorder bass-recorder piccolo flute alto-flute oboe english-horn';
  const clarinets = 'clarinet-in-eb clarinet-in-bb clarinet-in-a bass-clarinet';
  const saxophones = 'soprano-saxophone alto-saxophone tenor-saxophone baritone-saxophone';
  const low = 'trombone bass-trombone euphonium-treble-clef euphonium-bass-clef tuba';
  const mallets = 'glockenspiel xylophone vibraphone marimba';
  const strings = 'violin viola cello double-bass';
  it.each([
    [
      'band',
      `${high} bassoon ${clarinets} ${saxophones} cornet-in-bb trumpet-in-bb trumpet-in-c flugelhorn-in-bb horn-in-f ${low} ${strings} guitar piano-right-hand ${mallets}`,
    ],
    [
      'orchestra',
      `${high} ${clarinets} ${saxophones} bassoon horn-in-f trumpet-in-c trumpet-in-bb cornet-in-bb flugelhorn-in-bb ${low} ${mallets} guitar piano-right-hand ${strings}`,
    ],
  ] as const)('in %s order', (order, list) => {
    const chairs = [...INSTRUMENTS]
      .reverse()
      .map((instrument) => ({ player: value(playerOf({ instrument: instrument.id, level: 'advanced' })) }));
    expect(scoreOrder(chairs, order).map((i) => chairs[i]?.player.instrument.id)).toEqual(list.split(' '));
  });
});

describe('horns', () => {
  it('stand below the trumpets in a band and above them in an orchestra', () => {
    const { chairs } = band(book, 'horn-in-f trumpet-in-bb');
    expect(idsOf(chairs, 'band')).toBe('trumpet-in-bb horn-in-f');
    expect(idsOf(chairs, 'orchestra')).toBe('horn-in-f trumpet-in-bb');
  });
});

describe('brackets', () => {
  const { chairs } = band(book, 'flute oboe clarinet-in-bb clarinet-in-bb alto-saxophone trumpet-in-bb horn-in-f tuba');
  it('join sections, and inner ones join a group', () => {
    expect(sections(chairs, 'band')).toEqual([
      { from: 0, to: 4 },
      { from: 4, to: 5 },
      { from: 5, to: 8 },
    ]);
    expect(innerGroups(chairs)).toEqual([{ from: 2, to: 4 }]);
  });
  it('chairs of one instrument keep their order', () => {
    expect(scoreOrder(chairs, 'band')).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
    expect(chairs.slice(2, 4).map(({ name, short, id }) => [id, name, short])).toEqual([
      ['clarinet-in-bb-1', 'Clarinet 1 in B♭', 'B♭ Cl. 1'],
      ['clarinet-in-bb-2', 'Clarinet 2 in B♭', 'B♭ Cl. 2'],
    ]);
  });
});
