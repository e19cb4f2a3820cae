/** What one student is to play: each assigned exercise with its keys, its weeks and its tempos. */

import { error, type Issue, warning } from '../base/issue.js';
import { at } from '../base/list.js';
import type { Book } from '../book/book.js';
import type { Exercise } from '../exercise/exercise.js';
import { keyId, planRoute } from '../exercise/route.js';
import { listText, printedKey } from '../player/fit.js';
import { firstChroma } from '../player/realise.js';
import { writtenChroma } from '../player/spelling.js';
import type { ConcertKey } from '../theory/key.js';
import { type Key, keyText } from '../theory/key.js';
import { chroma } from '../theory/pitch.js';
import { tempoOf } from './progress.js';
import type { Roster, Student } from './roster.js';

export type Assigned = {
  readonly exercise: Exercise;
  /** As in the book. */
  readonly number: number;
  readonly chapter: number;
  /** Ids of the concert keys that the student does not play. */
  readonly without: ReadonlySet<string>;
  /** True if keys of the exercise are left out. */
  readonly restricted: boolean;
  readonly weeks: readonly number[];
  /** Undefined where neither roster nor book names a tempo. */
  readonly tempo: { readonly now: number; readonly goal: number } | undefined;
};

type Numbered = { readonly exercise: Exercise; readonly number: number; readonly chapter: number };

function numbered(book: Book): Numbered[] {
  let number = 0;
  return book.chapters.flatMap(({ exercises }, chapter) =>
    exercises.map((exercise): Numbered => ({ exercise, number: ++number, chapter })),
  );
}

const sameKey = (exercise: Exercise, student: Student, concert: ConcertKey, written: Key): boolean => {
  const printed = printedKey(exercise, concert);
  return printed.mode === written.mode && writtenChroma(printed.chroma, student.player) === chroma(written.tonic);
};

/** Keys of a list that the exercise does not visit. */
function strangers(exercise: Exercise, student: Student, keys: readonly ConcertKey[], wanted: readonly Key[]): Key[] {
  return wanted.filter((key) => !keys.some((concert) => sameKey(exercise, student, concert, key)));
}

/** Keys that all assignments of an exercise name together; undefined if one of them names none and no keys are learnt. */
function wantedKeys(student: Student, id: string): readonly Key[] | undefined {
  const lists = student.assignments.filter(({ exercises }) => exercises.includes(id)).map(({ keys }) => keys ?? student.keys);
  return lists.some((keys) => keys === undefined) ? undefined : lists.flatMap((keys) => keys ?? []);
}

function weeksOf(student: Student, id: string, weeks: number): number[] {
  const all = Array.from({ length: weeks }, (_, i) => i + 1);
  const own = student.assignments.filter(({ exercises }) => exercises.includes(id)).flatMap((assignment) => assignment.weeks ?? all);
  return all.filter((week) => own.includes(week));
}

/**
 * The exercises of a student in the book's order. Issues, with paths into the roster: error `key-not-in-exercise` for a key
 * that an assignment names and its exercise does not visit; warning `no-key-left` for an exercise that no key is left of,
 * and which is left out.
 */
export function assignedTo(
  book: Book,
  roster: Roster,
  index: number,
): { readonly assigned: readonly Assigned[]; readonly issues: readonly Issue[] } {
  const student = at(roster.students, index);
  const issues: Issue[] = [];
  const ids = new Set(student.assignments.flatMap(({ exercises }) => exercises));
  const assigned = numbered(book).flatMap(({ exercise, number, chapter }): Assigned[] => {
    if (!ids.has(exercise.id)) return [];
    const keys = planRoute(exercise, firstChroma(exercise, student.player)).statements.map(({ key }) => key);
    const before = issues.length;
    student.assignments.forEach((assignment, a) => {
      if (!assignment.keys || !assignment.exercises.includes(exercise.id)) return;
      const strange = strangers(exercise, student, keys, assignment.keys);
      if (strange.length === 0) return;
      const words = `The exercise "${exercise.id}" does not go through written ${listText(strange.map(keyText))} for this student; name keys that it visits, or leave "keys" out.`;
      issues.push(error('key-not-in-exercise', ['students', index, 'assignments', a, 'keys'], words));
    });
    if (issues.length > before) return [];
    const wanted = wantedKeys(student, exercise.id);
    const without = new Set(
      wanted ? keys.filter((key) => !wanted.some((written) => sameKey(exercise, student, key, written))).map(keyId) : [],
    );
    if (keys.every((key) => without.has(keyId(key)))) {
      const words = `Of the exercise "${exercise.id}" no key is left that this student has learnt, so it is not printed; add keys to "keys", or name them in the assignment.`;
      issues.push(warning('no-key-left', ['students', index], words));
      return [];
    }
    const tempo = tempoOf(student, exercise);
    return [
      { exercise, number, chapter, without, restricted: without.size > 0, weeks: weeksOf(student, exercise.id, roster.weeks), tempo },
    ];
  });
  if (ids.size === 0)
    issues.push(warning('nothing-assigned', ['students', index], 'Nothing is assigned to this student; add an assignment.'));
  return { assigned, issues };
}
