/** What an exercise may state, and what `defaults` may state for many. */
import { z } from 'zod';
import type { Contour, Directions, Dynamic, Ending, Signs, Turnaround } from '../exercise/exercise.js';
import { KEY_ORDER_NAMES } from '../exercise/key-order.js';
import { EXERCISE_DEFAULTS } from './defaults.js';
import { choice, fields, flag, line, list, notOneOf, optional, optionalLine, required, wrong } from './field.js';
import { key, levels } from './player-fields.js';

const DIRECTIONS = ['up', 'down', 'alternate-from-up', 'alternate-from-down'] as const satisfies readonly Directions[];
const TURNAROUNDS = ['restart', 'repeat-last-key'] as const satisfies readonly Turnaround[];
const ENDINGS = ['none', 'long-root', 'back-to-first-root'] as const satisfies readonly Ending[];
const CONTOURS = ['nearest', 'sweep', 'low', 'high'] as const satisfies readonly Contour[];
const DYNAMICS = ['pp', 'p', 'mp', 'mf', 'f', 'ff'] as const satisfies readonly Dynamic[];
const SIGNS = ['signature', 'accidentals'] as const satisfies readonly Signs[];
const PADDINGS = ['flow', 'beat, long note', 'beat, rests', 'bar, long note', 'bar, rests'] as const;

const START = '"lowest", {"concert": "Bb"} or {"written": "C"}';
const MISFIT = '"report", "leave-out", "turn" or {"level": "advanced"}';
const ORDER = 'the name of a key order such as "fourths", a list of keys such as ["Bb", "Eb", "F"], or {"name": "shuffle", "seed": 7}';

/** Most keys of a list of keys: each of the 24 four times. */
const MOST_KEYS = 96;

const orderFields = fields(ORDER, {
  name: required(choice(KEY_ORDER_NAMES), 'The name of the order.', { examples: ['shuffle'] }),
  keys: optional(
    list(key, 'a list of keys such as ["Bb", "Eb", "F"]', MOST_KEYS),
    'With "custom": the keys, with "m" behind a note name for minor.',
    { leftOut: 'only "custom" needs keys', examples: [['C', 'Am', 'F']] },
  ),
  sequence: optional(
    list(z.int({ error: wrong('a whole number from 0 to 11') }), 'a list of the numbers 0 to 11', MOST_KEYS),
    'With "shuffle": the order itself, each of the numbers 0 to 11 once, in half steps above the first key.',
    { leftOut: 'the `seed` makes the order', examples: [[0, 7, 2, 9, 4, 11, 6, 1, 8, 3, 10, 5]] },
  ),
  seed: optional(
    z.int({ error: wrong('a whole number of your choice') }),
    'With "shuffle": a whole number of your choice; the same number gives the same order in every printing.',
    { leftOut: '"shuffle" needs a `seed` or a `sequence`', examples: [7] },
  ),
  sets: optional(
    list(z.int({ error: wrong('a whole number of semitones') }), 'a list of semitones such as [0, 1, 2]', MOST_KEYS),
    'For an order in sets (whole tones, thirds, tritones, half-step pairs): half steps from the first set to each set, 0 first.',
    { leftOut: 'each set a half step higher; half-step pairs a whole step', examples: [[0, 2, 1]] },
  ),
  down: optional(
    flag('whether the order steps down within each set'),
    'For whole tones, thirds and half-step pairs: the keys of each set step down.',
    { default: false, examples: [true] },
  ),
});

const order = z.union([z.enum(KEY_ORDER_NAMES), list(key, ORDER, MOST_KEYS), orderFields], {
  error: (issue) => (typeof issue.input === 'string' ? notOneOf(KEY_ORDER_NAMES) : wrong(ORDER))(issue),
});

const start = z.union(
  [
    z.literal('lowest'),
    fields(START, {
      concert: optional(key, 'The first key as it sounds.', { leftOut: 'give `written`', examples: ['Bb'] }),
      written: optional(key, 'The first key as the player reads it.', { leftOut: 'give `concert`', examples: ['C'] }),
    }),
  ],
  { error: wrong(START) },
);

const misfit = z.union(
  [
    choice(['report', 'leave-out', 'turn'], {
      report: 'the program calls it a fault, and says what the remedies are',
      'leave-out': 'the key is left out, and the page says so',
      turn: 'the figure turns back at the limit of the compass',
    }),
    fields(MISFIT, {
      level: required(levels, 'For this exercise the player reaches as far as at this level.', { examples: ['advanced'] }),
    }),
  ],
  { error: wrong(MISFIT) },
);

const tempo = fields('an object such as {"from": 60, "to": 120}', {
  beat: optional(
    line('the beat as a fraction of a whole note, such as "1/4"', 16),
    'The note that is counted: "half", "quarter" or "eighth", dotted or not, or the same as a fraction of a whole note.',
    { leftOut: 'the beat of the metre: a dotted quarter in 6/8', examples: ['dotted quarter', '1/2'] },
  ),
  from: required(z.number({ error: wrong('the slowest speed in beats a minute') }), 'The slowest tempo, 20 to 400 beats a minute.', {
    examples: [60],
  }),
  to: optional(z.number({ error: wrong('the fastest speed in beats a minute') }), 'The fastest tempo, the goal.', {
    leftOut: 'the same as `from`',
    examples: [120],
  }),
});

export const settings = {
  scale: optional(
    line('the name of a scale, such as "harmonic minor"'),
    'The scale that plain degrees are read in. A degree with an alteration counts from the major scale whatever stands here.',
    { default: EXERCISE_DEFAULTS.scale, examples: ['harmonic minor', 'dorian'] },
  ),
  rhythm: optional(
    line('the rhythm as a name such as "eighths", or as note values such as "1/8 1/16 1/16"', 1_000),
    'The note values of the figure: a name, or fractions of a whole note, with dots and tuplets, repeated as often as the figure needs.',
    { default: EXERCISE_DEFAULTS.rhythm, examples: ['eighth triplets', '1/4. 1/8', '3:2(1/8 1/8 1/8)'] },
  ),
  metre: optional(line('a metre such as "4/4"', 12), 'The metre: 2/4, 3/4, 4/4, 5/4, 2/2, 3/8, 6/8, 9/8, 12/8, 5/8 or 7/8.', {
    default: EXERCISE_DEFAULTS.metre,
    examples: ['6/8'],
  }),
  padding: optional(
    choice(PADDINGS, {
      flow: 'the next key goes on at once, across beats and barlines',
      'beat, long note': 'the last note is held to the end of the beat',
      'beat, rests': 'rests fill up the beat',
      'bar, long note': 'the last note is held to the end of the bar',
      'bar, rests': 'rests fill up the bar',
    }),
    'What happens in each key after the last note of the figure.',
    { default: EXERCISE_DEFAULTS.padding, examples: ['flow'] },
  ),
  order: optional(
    order,
    'The keys in their order: the name of an order, which `twelvefold key-orders` lists; a list of keys; or an object with more to say.',
    { default: EXERCISE_DEFAULTS.order, examples: ['chromatic-up', ['Bb', 'Eb', 'F'], { name: 'shuffle', seed: 7 }] },
  ),
  directions: optional(
    choice(DIRECTIONS, {
      up: 'the figure as it is written, in every key',
      down: 'backwards, in every key',
      'alternate-from-up': 'up in one key and down in the next',
      'alternate-from-down': 'down in one key and up in the next',
    }),
    'Which way the figure goes in each key.',
    { default: EXERCISE_DEFAULTS.directions, examples: ['alternate-from-up'] },
  ),
  passes: optional(
    z.union([z.literal(1), z.literal(2)], { error: wrong('1 or 2, the number of times through the keys') }),
    'How often the exercise goes through the keys. The second time every direction is changed.',
    { default: EXERCISE_DEFAULTS.passes, examples: [2] },
  ),
  turnaround: optional(
    choice(TURNAROUNDS, {
      restart: 'in the first key',
      'repeat-last-key': 'in the key that ended the first pass',
    }),
    'Where the second pass begins.',
    { default: EXERCISE_DEFAULTS.turnaround, examples: ['repeat-last-key'] },
  ),
  start: optional(
    start,
    'The first key: "lowest", the lowest root from which the player can play the figure; or a key as it sounds or as the player reads it. Where `order` is a list of keys and nothing is said here, the list begins with its first key.',
    { default: EXERCISE_DEFAULTS.start, examples: [{ concert: 'Bb' }, { written: 'C' }] },
  ),
  ending: optional(
    choice(ENDINGS, {
      none: 'no note is added',
      'long-root': 'a long note on the root of the last key',
      'back-to-first-root': 'a long note on the root of the first key',
    }),
    'A closing note after the last key.',
    { default: EXERCISE_DEFAULTS.ending, examples: ['long-root'] },
  ),
  contour: optional(
    choice(CONTOURS, {
      nearest: 'close to the key before, without leaving the middle of the compass for long',
      sweep: 'climbing through the compass to the middle of the exercise, and back down',
      low: 'as low as can be',
      high: 'as high as can be',
    }),
    'In which octave each key is played: the wish that the choice of octaves follows from key to key.',
    { default: EXERCISE_DEFAULTS.contour, examples: ['sweep'] },
  ),
  misfit: optional(misfit, 'What happens in a key where the figure does not fit the compass of the player.', {
    default: EXERCISE_DEFAULTS.misfit,
    examples: ['leave-out', { level: 'advanced' }],
  }),
  articulation: optional(
    optionalLine('the articulation in words, such as "slur 2, tongue 2"'),
    'Slurs and tonguing in words: "all slurred", "all tongued", or "slur" and "tongue" with numbers of notes in turn; then "staccato", "accent" or "tenuto" for the tongued notes, if wanted.',
    { default: EXERCISE_DEFAULTS.articulation, examples: ['slur 2, tongue 2', 'all tongued, staccato'] },
  ),
  variants: optional(
    list(line('an articulation in words'), 'a list of articulations such as ["all slurred", "slur 2, tongue 2"]', 24),
    'Further articulations to practise. Each is shown by a small incipit above the music.',
    { default: [], examples: [['all slurred', 'slur 2, tongue 2']] },
  ),
  dynamic: optional(choice(DYNAMICS), 'The dynamic under the first note. Breath marks count with it: loud notes take more air.', {
    leftOut: 'no dynamic is printed, and breaths are counted for mf',
    examples: ['p'],
  }),
  tempo: optional(tempo, 'From the slowest tempo to the goal. Breath marks are placed for the slowest.', {
    leftOut: 'no tempo is printed, and no breath marks',
    examples: [{ from: 60, to: 120 }],
  }),
  signs: optional(
    choice(SIGNS, {
      signature: 'a key signature at each change of key',
      accidentals: 'no key signature; accidentals in each bar',
    }),
    'How the keys are written.',
    { default: EXERCISE_DEFAULTS.signs, examples: ['signature'] },
  ),
  simpleSpelling: optional(
    flag('whether double accidentals are written as simple notes'),
    'Double sharps and double flats are written as simple notes: a reading aid, at the cost of the letters of the figure.',
    { default: EXERCISE_DEFAULTS.simpleSpelling, examples: [true] },
  ),
  keyNames: optional(flag('whether key names are printed'), 'The name of the key stands over each change of key.', {
    default: EXERCISE_DEFAULTS.keyNames,
    examples: [false],
  }),
  degreeNumbers: optional(
    flag('whether degree numbers are printed'),
    'The degrees of the figure stand as numbers under its first statement.',
    { default: EXERCISE_DEFAULTS.degreeNumbers, examples: [false] },
  ),
};
