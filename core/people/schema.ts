/** The shape of a saved roster. */
import {
  breather,
  choice,
  fields,
  key,
  LEVELS,
  line,
  list,
  name,
  note,
  number,
  optionalLine,
  PAGES,
  spelling,
  staff,
} from '../book/schema.js';

/** Longest name that is read; a longer one is a slip. On paper it is shortened where it does not fit. */
export const LONGEST_NAME = 300;

const tempo = (what: string) => number(20, 400, `${what} in beats a minute`);
const date = (what: string) => line(`${what} as year-month-day, such as "2026-03-01"`, 10);
const week = number(1, 60, 'a week of the term').int({ error: 'This is not a whole number; write the number of a week.' });

const student = fields('an object such as {"name": "A. B.", "instrument": "flute"}', {
  name: line('a name or initials', LONGEST_NAME),
  instrument: line('the id of an instrument, such as "alto-saxophone"'),
  level: choice(LEVELS).optional(),
  compass: fields('an object such as {"low": "Bb3", "high": "C6"}', { low: note.optional(), high: note.optional() }).optional(),
  spelling: spelling.optional(),
  staff: staff.optional(),
  page: choice(PAGES).optional(),
  breath: breather.optional(),
  keys: list(key, 'a list of written keys such as ["C", "F", "Am"]').optional(),
  tempos: list(
    fields('an object such as {"exercise": "walk", "now": 60, "goal": 96}', {
      exercise: name,
      now: tempo('the tempo that goes well now').optional(),
      goal: tempo('the goal').optional(),
    }),
    'a list of tempos',
  ).optional(),
  assignments: list(
    fields('an object such as {"exercises": ["walk"], "weeks": [1, 2]}', {
      exercises: list(name, 'a list of the ids of exercises'),
      keys: list(key, 'a list of written keys such as ["C", "F", "Am"]').optional(),
      weeks: list(week, 'a list of weeks such as [1, 2, 3]').optional(),
    }),
    'a list of assignments',
  ).optional(),
  progress: list(
    fields('an object such as {"exercise": "walk", "tempo": 72, "date": "2026-03-08"}', {
      exercise: name,
      tempo: tempo('the tempo reached'),
      date: date('the day'),
    }),
    'a list of tempos reached',
  ).optional(),
});

export const rosterShape = fields('an object with the fields of a roster', {
  format: choice(['twelvefold-roster']),
  version: number(1, 1, 'the version'),
  title: optionalLine('the name of the class or studio').optional(),
  begins: date('the first day of week 1').optional(),
  weeks: number(1, 60, 'how many weeks the term has')
    .int({ error: 'This is not a whole number; write how many weeks the term has.' })
    .optional(),
  students: list(student, 'a list of students'),
});

export type RosterSource = ReturnType<typeof rosterShape.parse>;
export type StudentSource = RosterSource['students'][number];
