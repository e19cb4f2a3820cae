/** The shape of a saved ensemble. */
import type { z } from 'zod';
import { choice, fields, line, list, number, optional, optionalLine, required, schemaField } from '../book/field.js';
import { breather, key, levels, name, pages, player } from '../book/player-fields.js';

const chair = fields('an object such as {"instrument": "flute", "players": 3}', {
  id: optional(name, 'A short name of the chair, for `keep` and for the commands; each only once.', {
    leftOut: 'the id of the instrument, numbered where several chairs have it',
    examples: ['trumpet-2'],
  }),
  instrument: player.instrument,
  name: optional(line('the name as printed, such as "Trumpet 2"', 60), 'The name on its part.', {
    leftOut: 'the name of the instrument, numbered where several chairs have it',
    examples: ['Trumpet 2'],
  }),
  short: optional(line('the short name before a staff, such as "Tpt. 2"', 16), 'The short name before its staff in the score.', {
    leftOut: 'that of the instrument, numbered in the same way',
    examples: ['Tpt. 2'],
  }),
  level: optional(levels, 'How far this chair reaches.', { leftOut: 'the `level` of the ensemble', examples: ['beginner'] }),
  compass: player.compass,
  spelling: player.spelling,
  players: optional(
    number(1, 100, 'how many people play from the part').int({
      error: 'This is not a whole number; write how many people play from the part.',
    }),
    'How many people play from the part: with staggered breathing each gets a copy of the part.',
    { default: 1, examples: [3] },
  ),
  group: optional(name, 'Chairs of one group breathe by turns and share an inner bracket in the score.', {
    leftOut: 'the id of the instrument',
    examples: ['flutes'],
  }),
  staff: player.staff,
  page: player.page,
  breath: optional(breather, 'What is known of the lungs in this chair.', {
    leftOut: 'a child for beginners, a teen for intermediate players, else an adult',
    examples: [{ longTone: 11 }],
  }),
});

export const ensembleShape = fields('an object with the fields of an ensemble', {
  format: required(choice(['twelvefold-ensemble']), 'Says that this is an ensemble file.', { examples: ['twelvefold-ensemble'] }),
  version: required(number(1, 1, 'the version'), 'The version of the file.', { examples: [1] }),
  $schema: schemaField,
  name: required(line('the name of the ensemble', 120), 'The name of the ensemble, as on the score.', { examples: ['Harrow Lane Band'] }),
  chairs: required(
    list(chair, 'a list of chairs such as [{"instrument": "flute"}, {"instrument": "oboe"}]'),
    'The chairs, two or more: each plays from a part of its own.',
    { examples: [[{ instrument: 'flute', players: 3 }, { instrument: 'oboe' }]] },
  ),
  level: optional(levels, 'How far every chair reaches that does not say so itself.', { default: 'intermediate', examples: ['beginner'] }),
  misfit: optional(
    choice(['as written', 'leave-out', 'turn', 'hold-root'], {
      'as written': 'what the exercise itself says',
      'leave-out': 'the key is left out for all',
      turn: 'the figure is turned back for all',
      'hold-root': 'that chair alone holds the root',
    }),
    'What happens in a key that some chair cannot play.',
    { default: 'as written', examples: ['leave-out'] },
  ),
  start: optional(key, 'The concert key in which exercises begin that name no concert key themselves.', {
    leftOut: 'where the first chair would begin',
    examples: ['Bb'],
  }),
  keep: optional(
    list(
      fields('an object such as {"chairs": ["trumpet-1", "cornet"], "together": "unison"}', {
        chairs: required(list(name, 'a list of the ids of chairs'), 'The ids of the chairs; the first of them leads.', {
          examples: [['flute', 'oboe']],
        }),
        together: required(
          choice(['unison', 'octave'], { unison: 'they sound the same notes', octave: 'they sound a whole number of octaves apart' }),
          'How they stay together.',
          { examples: ['octave'] },
        ),
      }),
      'a list of chairs that stay together',
    ),
    'Chairs that stay together.',
    { default: [], examples: [[{ chairs: ['flute', 'oboe'], together: 'octave' }]] },
  ),
  breathing: optional(
    fields('an object such as {"plan": "staggered", "tempo": 72}', {
      plan: optional(
        choice(['none', 'together', 'staggered'], {
          none: 'no breath marks',
          together: 'one plan for all, made for the shortest lungs',
          staggered: 'each player of a group breathes where nobody else of the group does',
        }),
        'How the ensemble breathes.',
        { default: 'none', examples: ['staggered'] },
      ),
      tempo: optional(number(20, 400, 'the tempo in beats a minute'), 'The tempo for which breaths are planned.', {
        leftOut: 'the slowest tempo of each exercise',
        examples: [72],
      }),
    }),
    'Breath marks of the parts.',
    { leftOut: 'each field as below', examples: [{ plan: 'staggered', tempo: 72 }] },
  ),
  score: optional(
    fields('an object such as {"order": "band", "pitch": "concert"}', {
      order: optional(
        choice(['band', 'orchestra', 'high to low'], {
          band: 'the order of a wind band',
          orchestra: 'the order of an orchestra',
          'high to low': 'the highest instrument at the top',
        }),
        'Which staff stands above which.',
        { default: 'band', examples: ['orchestra'] },
      ),
      pitch: optional(
        choice(['concert', 'transposed'], { concert: 'all staves in concert pitch', transposed: 'each staff as its player reads it' }),
        'The pitch of the score. In concert pitch octave transpositions stay as they are read.',
        { default: 'concert', examples: ['transposed'] },
      ),
      page: optional(pages, 'Size of the sheet.', { leftOut: 'that of the book', examples: ['a4'] }),
      staff: optional(number(2, 9, 'the height of a staff in millimetres'), 'Height of each staff in millimetres.', {
        leftOut: 'as large as fits the page well',
        examples: [5],
      }),
    }),
    'The score.',
    { leftOut: 'each field as below', examples: [{ order: 'band', pitch: 'concert' }] },
  ),
  exercises: optional(list(name, 'a list of the ids of exercises'), 'The ids of the exercises to print.', {
    leftOut: 'all exercises of the book',
    examples: [['walk']],
  }),
  remark: optional(optionalLine('a remark'), 'A remark for yourself; it is printed nowhere.', {
    default: '',
    examples: ['Spring concert'],
  }),
});

export type EnsembleSource = z.infer<typeof ensembleShape>;
export type ChairSource = EnsembleSource['chairs'][number];
