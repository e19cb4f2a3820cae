/** The shape of a saved roster. */
import type { z } from 'zod';
import { choice, fields, line, list, number, optional, optionalLine, required, schemaField } from '../book/field.js';
import { breather, key, name, player } from '../book/player-fields.js';

/** Longest name that is read; a longer one is a slip. On paper it is shortened where it does not fit. */
export const LONGEST_NAME = 300;

/** Weeks of a term of which the roster says nothing. */
export const WEEKS_DEFAULT = 8;

const tempo = (what: string) => number(20, 400, `${what} in beats a minute`);
const date = (what: string) => line(`${what} as year-month-day, such as "2026-03-01"`, 10);
const week = number(1, 60, 'a week of the term').int({ error: 'This is not a whole number; write the number of a week.' });
const keys = list(key, 'a list of written keys such as ["C", "F", "Am"]');

const student = fields('an object such as {"name": "A. B.", "instrument": "flute"}', {
  name: required(line('a name or initials', LONGEST_NAME), 'A name, or initials; each only once.', { examples: ['W. O.'] }),
  ...player,
  breath: optional(breather, 'What is known of the student’s lungs.', {
    leftOut: 'an adult of whom nothing is known',
    examples: [{ longTone: 9 }, { age: 11, height: 142 }],
  }),
  keys: optional(keys, 'The keys learnt so far, as the student reads them, with "m" behind a note name for minor.', {
    leftOut: 'all keys',
    examples: [['Bb', 'Eb', 'Cm']],
  }),
  tempos: optional(
    list(
      fields('an object such as {"exercise": "walk", "now": 60, "goal": 96}', {
        exercise: required(name, 'The id of the exercise.', { examples: ['walk'] }),
        now: optional(tempo('the tempo that goes well now'), 'The tempo that goes well now, in beats a minute.', {
          leftOut: 'the slowest of the exercise; the latest tempo of `progress` goes before both',
          examples: [60],
        }),
        goal: optional(tempo('the goal'), 'The goal, in beats a minute.', { leftOut: 'the fastest of the exercise', examples: [96] }),
      }),
      'a list of tempos',
    ),
    'How fast each exercise goes now, and the goal.',
    { default: [], examples: [[{ exercise: 'walk', now: 60, goal: 96 }]] },
  ),
  assignments: optional(
    list(
      fields('an object such as {"exercises": ["walk"], "weeks": [1, 2]}', {
        exercises: required(list(name, 'a list of the ids of exercises'), 'The ids of the exercises.', { examples: [['walk']] }),
        keys: optional(keys, 'Only these written keys, learnt or not.', { leftOut: 'the keys learnt', examples: [['F', 'Dm']] }),
        weeks: optional(list(week, 'a list of weeks such as [1, 2, 3]'), 'The weeks of the term, counted from 1.', {
          leftOut: 'the whole term',
          examples: [[1, 2]],
        }),
      }),
      'a list of assignments',
    ),
    'What is to be practised, and when.',
    { default: [], examples: [[{ exercises: ['walk'], weeks: [1, 2] }]] },
  ),
  progress: optional(
    list(
      fields('an object such as {"exercise": "walk", "tempo": 72, "date": "2026-03-08"}', {
        exercise: required(name, 'The id of the exercise.', { examples: ['walk'] }),
        tempo: required(tempo('the tempo reached'), 'The tempo reached, in beats a minute.', { examples: [72] }),
        date: required(date('the day'), 'The day, as year-month-day.', { examples: ['2026-03-08'] }),
      }),
      'a list of tempos reached',
    ),
    'Tempos reached, in the order written down; `twelvefold progress` writes them.',
    { default: [], examples: [[{ exercise: 'walk', tempo: 72, date: '2026-03-08' }]] },
  ),
});

export const rosterShape = fields('an object with the fields of a roster', {
  format: required(choice(['twelvefold-roster']), 'Says that this is a roster file.', { examples: ['twelvefold-roster'] }),
  version: required(number(1, 1, 'the version'), 'The version of the file.', { examples: [1] }),
  $schema: schemaField,
  title: optional(optionalLine('the name of the class or studio'), 'The name of the class or studio, as on the covers.', {
    default: '',
    examples: ['Tuesday lessons'],
  }),
  begins: optional(date('the first day of week 1'), 'The first day of week 1, as year-month-day.', {
    leftOut: 'weeks are printed without dates',
    examples: ['2026-03-03'],
  }),
  weeks: optional(
    number(1, 60, 'how many weeks the term has').int({ error: 'This is not a whole number; write how many weeks the term has.' }),
    'How many weeks the term has.',
    { default: WEEKS_DEFAULT, examples: [12] },
  ),
  students: required(list(student, 'a list of students'), 'The students, at least one.', {
    examples: [[{ name: 'W. O.', instrument: 'flute' }]],
  }),
});

export type RosterSource = z.infer<typeof rosterShape>;
export type StudentSource = RosterSource['students'][number];
