import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { pathText } from '../../core/base/issue.js';
import { copiesOf, ensembleBookOf, ensembleStems } from '../../core/ensemble/ensemble-book.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { value } from '../player/fixture.js';
import { band, bandFile, demoBook } from './band.js';

const book = demoBook('small-wheels');
const read = (file: object | string) => readEnsemble(typeof file === 'string' ? file : JSON.stringify(file), book);
const chairs = (...list: object[]) => ({ ...bandFile('flute'), chairs: list });

const FAULTS: readonly (readonly [string, object | string, string, string, string])[] = [
  ['an empty file', ' ', 'file-empty', '', 'choose another file'],
  ['a book', { format: 'twelvefold', version: 1 }, 'not-this-format', 'format', '"twelvefold-ensemble"'],
  ['a newer version', { ...bandFile('flute oboe'), version: 7 }, 'newer-version', 'version', 'install the newer program'],
  ['no chairs', bandFile(''), 'chairs-count', 'chairs', 'list two chairs or more'],
  ['one chair', bandFile('flute'), 'chairs-count', 'chairs', 'build an edition'],
  ['101 chairs', bandFile(Array(101).fill('flute').join(' ')), 'chairs-count', 'chairs', 'at most 100'],
  ['an unknown instrument', bandFile('flute obo'), 'unknown-instrument', 'chair 2, instrument', '"oboe"'],
  [
    'a compass upside down',
    chairs({ instrument: 'flute' }, { instrument: 'oboe', compass: { low: 'C6', high: 'C5' } }),
    'compass-upside-down',
    'chair 2, compass',
    'exchange',
  ],
  [
    'an id twice',
    chairs({ instrument: 'flute', id: 'a' }, { instrument: 'oboe', id: 'a' }),
    'chair-twice',
    'chair 2, id',
    'chair 1 already',
  ],
  [
    'a name twice',
    chairs({ instrument: 'flute' }, { instrument: 'oboe', name: 'Flute ' }),
    'chair-name-twice',
    'chair 2, name',
    'Chair 1 is called',
  ],
  ['no players', chairs({ instrument: 'flute' }, { instrument: 'oboe', players: 0 }), 'wrong-field', 'chair 2, players', 'from 1 to 100'],
  [
    'half a player',
    chairs({ instrument: 'flute' }, { instrument: 'oboe', players: 1.5 }),
    'wrong-field',
    'chair 2, players',
    'whole number',
  ],
  [
    'a bond with a stranger',
    bandFile('flute oboe', { keep: [{ chairs: ['flute', 'oboo'], together: 'unison' }] }),
    'unknown-chair',
    'keep 1, chair 2',
    '"oboe"',
  ],
  [
    'a bond of one',
    bandFile('flute oboe', { keep: [{ chairs: ['flute'], together: 'unison' }] }),
    'bond-of-one',
    'keep 1, chairs',
    'two chairs',
  ],
  [
    'two bonds of one chair',
    bandFile('flute oboe tuba', {
      keep: [
        { chairs: ['flute', 'oboe'], together: 'unison' },
        { chairs: ['oboe', 'tuba'], together: 'octave' },
      ],
    }),
    'chair-bound-twice',
    'keep 2, chair 1',
    'out of one',
  ],
  [
    'an exercise that is none',
    bandFile('flute oboe', { exercises: ['three-steps', 'none'] }),
    'unknown-exercise',
    'exercise 2',
    'write one of',
  ],
  ['a start that is none', bandFile('flute oboe', { start: 'H' }), 'unknown-key', 'start', 'note name'],
  [
    'lungs of nothing',
    chairs({ instrument: 'flute' }, { instrument: 'oboe', breath: { lungTime: 0 } }),
    'lung-time-too-short',
    'chair 2, breath, lungTime',
    'more than zero',
  ],
];

describe('an ensemble that is wrong', () => {
  it.each(FAULTS)('%s', (_, file, code, place, words) => {
    const { ok, issues } = read(file);
    expect(ok).toBe(false);
    expect([issues[0]?.code, pathText(issues[0]?.path ?? [])]).toEqual([code, place]);
    expect(issues[0]?.message).toContain(words);
  });
});

describe('a good ensemble', () => {
  it('is the one in the demo, of at least twelve different chairs', () => {
    const ensemble = value(read(readFileSync('assets/books/harrow-lane-band.ensemble', 'utf8')));
    expect(new Set(ensemble.chairs.map(({ player }) => player.instrument.id)).size).toBeGreaterThanOrEqual(12);
  });

  it('has a copy for each player where they breathe by turns, else one for each chair', () => {
    const names = (plan: string) => copiesOf(band(book, 'flute*3 tuba glockenspiel*2', { breathing: { plan } })).map(({ name }) => name);
    expect(names('staggered')).toEqual(['Flute, player 1', 'Flute, player 2', 'Flute, player 3', 'Tuba', 'Glockenspiel']);
    expect(names('together')).toEqual(['Flute', 'Tuba', 'Glockenspiel']);
  });

  it('numbers chairs of one instrument that have no names, with ids of their own or without', () => {
    const list = [{ instrument: 'flute', id: 'front' }, { instrument: 'flute' }, { instrument: 'clarinet-in-bb' }];
    const { chairs: found } = value(read(chairs(...list)));
    expect(found.map(({ id, name, short }) => `${id}, ${name}, ${short}`)).toEqual([
      'front, Flute 1, Fl. 1',
      'flute, Flute 2, Fl. 2',
      'clarinet-in-bb, Clarinet in B♭, B♭ Cl.',
    ]);
  });

  it('keeps the numbers of the book for a choice of exercises', () => {
    const { exercises: chosen } = ensembleBookOf(book, band(book, 'flute tuba', { exercises: ['last-wheel', 'three-steps'] }));
    expect(chosen.map(({ number, exercise }) => [number, exercise.id])).toEqual([
      [2, 'three-steps'],
      [11, 'last-wheel'],
    ]);
  });

  it('has file names that differ and are safe, whatever the chairs are called', () => {
    const list = ['../x', 'x', 'X', '🎺', 'CON', 'score', 'Score'].map((name, i) => ({ instrument: 'flute', id: `c${i}`, name }));
    const { copies, score } = ensembleStems(ensembleBookOf(book, value(read({ ...chairs(...list), name: '////' }))));
    const stems = [...copies.values(), score];
    expect(new Set(stems).size).toBe(list.length + 1);
    for (const stem of stems) expect(stem).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
  });
});
