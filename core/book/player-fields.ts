/** What a file may say of a player: an edition, a student and a chair share these fields. */
import { z } from 'zod';
import type { Level } from '../exercise/exercise.js';
import type { PageSize } from './book.js';
import { LEVEL_DEFAULT, SPELLING_DEFAULT } from './defaults.js';
import { choice, fields, line, list, number, optional, required, wrong } from './field.js';

export const LEVELS = ['beginner', 'intermediate', 'advanced', 'professional'] as const satisfies readonly Level[];
const PAGES = ['letter', 'a4', '9x12', 'jis-b4'] as const satisfies readonly PageSize[];

export const levels = choice(LEVELS, {
  beginner: 'the end of the first year (band grades 1 to 1½)',
  intermediate: 'school grades 6 to 8',
  advanced: 'school grades 9 to 12',
  professional: 'the compass of the orchestration handbooks',
});

export const pages = choice(PAGES, {
  letter: '8.5 × 11 in',
  a4: '210 × 297 mm',
  '9x12': '9 × 12 in, concert size',
  'jis-b4': '257 × 364 mm',
});

export const name = line('a short name of letters, digits, points and hyphens', 64).regex(/^[A-Za-z0-9][A-Za-z0-9.-]*$/, {
  error: wrong('a short name of letters, digits, points and hyphens, such as "long-tones"'),
});
export const key = line('a note name such as "Bb" or "F#"', 8);
const note = line('a note name with its octave, such as "Bb3"', 8);
export const staff = number(4, 12, 'the height of the staff in millimetres');

export const spelling = fields('an object such as {"tie": "sharps", "prefer": ["C#"]}', {
  tie: optional(
    choice(['flats', 'sharps'], { flats: 'G♭ major and E♭ minor', sharps: 'F♯ major and D♯ minor' }),
    'How the key with six flats or six sharps is written. Every other key is written with as few signs as can be.',
    { default: SPELLING_DEFAULT.tie, examples: ['sharps'] },
  ),
  prefer: optional(
    list(key, 'a list of key names such as ["C#"]'),
    'Written keys to prefer to their neighbours of the same sound: "C#" gives C sharp major, not D flat major.',
    { default: [], examples: [['C#', 'B']] },
  ),
});

/** What is known of the person who breathes. */
export const breather = fields('an object such as {"lungs": "teen"} or {"longTone": 14}', {
  lungTime: optional(
    z.number({ error: wrong('seconds of playing from one breath') }),
    'Seconds of playing from one comfortable breath, as player or teacher know them. It goes before everything else that is said here.',
    { leftOut: 'it is computed from the other facts', examples: [8] },
  ),
  longTone: optional(
    z.number({ error: wrong('seconds of the longest long tone') }),
    'Seconds of the longest of three long tones, played mezzo forte on a middle note.',
    { leftOut: 'the lungs are estimated', examples: [14] },
  ),
  age: optional(
    z.number({ error: wrong('the age in years') }),
    'Age in years, 3 to 95; with the height it gives an estimate of the lungs.',
    {
      leftOut: 'the rough class of `lungs` serves',
      examples: [14],
    },
  ),
  height: optional(z.number({ error: wrong('the height in centimeters') }), 'Height in centimeters, 80 to 220; goes with the age.', {
    leftOut: 'the rough class of `lungs` serves',
    examples: [162],
  }),
  sex: optional(choice(['female', 'male']), 'Makes the estimate from age and height a little better.', {
    leftOut: 'the estimate is the mean of both',
    examples: ['female'],
  }),
  lungs: optional(
    choice(['adult', 'teen', 'child'], { adult: 'about 4 litres', teen: 'about 3.2 litres', child: 'about 2 litres' }),
    'A rough class of lungs, where nothing better is known.',
    { leftOut: 'the age decides, if it is known; else an adult', examples: ['teen'] },
  ),
  experience: optional(
    choice(['beginner', 'default', 'advanced'], {
      beginner: 'two fifths of the lungs for one phrase',
      default: 'half of them',
      advanced: 'three fifths of them',
    }),
    'How much of the lungs the player uses between two breaths.',
    { leftOut: '`"default"`', examples: ['beginner'] },
  ),
});

const noteExamples = { low: 'Bb3', high: 'C6' };

const compass = fields('an object such as {"low": "Bb3", "high": "C6"}', {
  low: optional(note, 'Lowest written note, with its octave; C4 is middle C.', {
    leftOut: 'that of the instrument at this level',
    examples: [noteExamples.low],
  }),
  high: optional(note, 'Highest written note.', { leftOut: 'that of the instrument at this level', examples: [noteExamples.high] }),
});

/** The reader’s side of an edition, a student or a chair. */
export const player = {
  instrument: required(
    line('the id of an instrument, such as "alto-saxophone"'),
    'The instrument: an id that `twelvefold instruments` lists, or its printed name.',
    { examples: ['alto-saxophone', 'Clarinet in B♭'] },
  ),
  level: optional(levels, 'How far the player reaches: the compass that the instrument has at this level.', {
    default: LEVEL_DEFAULT,
    examples: ['beginner'],
  }),
  compass: optional(compass, 'A compass of the player’s own, in written notes.', {
    leftOut: 'the compass of the instrument at the `level`',
    examples: [noteExamples, { high: 'G5' }],
  }),
  spelling: optional(spelling, 'How this player’s keys are spelled.', {
    leftOut: 'the `spelling` of the book',
    examples: [{ tie: 'sharps' }],
  }),
  staff: optional(staff, 'Height of the staff in millimetres.', {
    leftOut: 'that of the book; if it has none 9 for beginners, 7 for professionals, 7.5 for the others',
    examples: [8],
  }),
  page: optional(pages, 'Size of the sheet.', { leftOut: 'that of the book', examples: ['a4'] }),
};
