/** What is told of players and of exercises that do not fit them, word for word; and the words for families. */
import { describe, expect, it, test } from 'vitest';
import { instrumentById } from '../../core/player/catalogue.js';
import { parseCompass, playerOf } from '../../core/player/compass.js';
import { FAMILY_WORDS, familyByWord } from '../../core/player/families.js';
import { distanceWords } from '../../core/player/fit.js';
import { realise } from '../../core/player/realise.js';
import { exercise, player, value } from './fixture.js';

const sentences = ({ issues }: { readonly issues: readonly { readonly message: string }[] }): string[] =>
  issues.map(({ message }) => message);

describe('a compass', () => {
  it('is read from two notes', () => {
    expect(sentences(parseCompass('H', 'C'))).toEqual([
      '"H" is not a note with its octave. Write it as Bb3 or F#5; middle C is C4.',
      '"C" is not a note with its octave. Write it as Bb3 or F#5; middle C is C4.',
    ]);
    expect(parseCompass('H3', 'C5').issues.map(({ path }) => path)).toEqual([['low']]);
    expect(parseCompass('C5', '').issues.map(({ path }) => path)).toEqual([['high']]);
  });
  it('has its lowest note below its highest', () => {
    const words = 'The lowest note C5 is not below the highest note C5. Change one of them, or exchange them.';
    expect(sentences(parseCompass('C5', 'C5'))).toEqual([words]);
    expect(parseCompass('C5', 'C#5').ok).toBe(true);
  });
  const told = (low: string, high: string): string[] =>
    sentences(playerOf({ instrument: 'flute', level: 'advanced', compass: value(parseCompass(low, high)) }));
  // The flute's own: C4 to D7.
  it('an octave beyond the instrument is let pass, more is doubted', () => {
    expect(told('C3', 'D8')).toEqual([]);
    expect(told('B2', 'D7')).toEqual([
      'B2 to D7 is more than an octave beyond what Flute is written for (C4 to D7). Check the octave numbers.',
    ]);
    expect(told('C4', 'D#8')).toHaveLength(1);
  });
});

describe('an exercise that does not fit', () => {
  const one = { order: { name: 'custom', keys: ['C'] } } as const;
  const said = (words: Parameters<typeof exercise>[0], who: string, reach?: string): string[] =>
    sentences(realise(exercise(words), player(who, reach)));
  it('has a closing note outside the compass', () =>
    expect(said({ ...one, figure: '2 3', ending: 'long-root' }, 'flute', 'D4-E4')).toEqual([
      'The closing note of "Test" lies outside the compass of Flute (D4 to E4). Choose another ending, or a wider compass.',
    ]));
  it('leaves keys out, or turns', () => {
    const two = { order: { name: 'custom', keys: ['C', 'F'] }, figure: '1 2 3 4 5' } as const;
    expect(said({ ...two, misfit: { kind: 'leave-out' } }, 'flute', 'C4-G4')).toEqual([
      'The exercise "Test" is left out for Flute in written F.',
    ]);
    expect(said({ ...two, misfit: { kind: 'turn' } }, 'flute', 'C4-G4')).toEqual([
      'The exercise "Test" turns at the limit of the compass for Flute in written F.',
    ]);
    expect(said({ ...two, title: '', misfit: { kind: 'leave-out' } }, 'flute', 'C4-G4')).toEqual([
      'The exercise "test" is left out for Flute in written F.',
    ]);
  });
  it('has a tuplet over the end of a bar', () =>
    expect(said({ ...one, figure: '1 2 3 4', rhythm: '1/8 3:2(1/4 1/4 1/4)', metre: '2/4' }, 'flute')).toEqual([
      'In the exercise "Test" a tuplet of 3 in the time of 2 would run over the end of bar 1 in 2/4; choose a metre or a rhythm in which tuplets stay inside the bar, or let each statement begin a bar.',
    ]));
});

test.each([
  ['oboo', 'There is no instrument "oboo". Did you mean "oboe" (Oboe)?'],
  ['qqqqq', 'There is no instrument "qqqqq". Write an id such as "piccolo".'],
])('%s', (id, words) => expect(sentences(instrumentById(id))).toEqual([words]));

// Names of intervals: any textbook of the rudiments.
test('distances within two octaves', () =>
  expect(Array.from({ length: 14 }, (_, semitones) => distanceWords(semitones)).join(', ')).toBe(
    'a unison, a half step, a whole step, a minor third, a major third, a fourth, a tritone, a fifth, a minor sixth, a major sixth, a minor seventh, a major seventh, an octave, an octave and a half step',
  ));

describe('words for families', () => {
  it.each([
    ['flutes', 3],
    ['double-reeds', 3],
    ['clarinets', 4],
    ['saxophones', 4],
    ['woodwinds', 14],
    ['brass', 10],
    ['recorders', 4],
    ['winds', 28],
    ['strings', 4],
    ['mallets', 4],
    ['all', 38],
  ])('%s: %d instruments', (word, count) => expect(familyByWord(word)).toHaveLength(count));
  it('are these, in any case and with blanks; others are none', () => {
    expect(FAMILY_WORDS.join(' ')).toBe('flutes double-reeds clarinets saxophones woodwinds brass recorders winds strings mallets all');
    expect(familyByWord(' Double  Reeds ')?.map(({ id }) => id)).toEqual(['oboe', 'english-horn', 'bassoon']);
    expect(familyByWord('toString')).toBeUndefined();
    expect(familyByWord('flute')).toBeUndefined();
  });
});
