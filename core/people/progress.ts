/** Tempos reached: the latest of each exercise, and a new one written into a roster. */

import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { writeJson } from '../book/write.js';
import { exerciseIssues } from '../ensemble/read.js';
import type { Exercise } from '../exercise/exercise.js';
import { isDate, readRosterSource } from './read.js';
import type { Progress, Student } from './roster.js';
import type { RosterSource } from './schema.js';

/** The last tempo reached, by date and then by place in the list; undefined if none was written down. */
export function latest(student: Pick<Student, 'progress'>, exercise: string): Progress | undefined {
  return student.progress
    .filter((one) => one.exercise === exercise)
    .reduce<Progress | undefined>((a, b) => (a && a.date > b.date ? a : b), undefined);
}

/**
 * Where the student stands in an exercise: the last tempo reached, else the one stated, else the exercise's own first one;
 * and where he is going. Undefined where nothing is known. The goal is never slower than the present tempo.
 */
export function tempoOf(student: Student, exercise: Exercise): { readonly now: number; readonly goal: number } | undefined {
  const stated = student.tempos.get(exercise.id);
  const now = latest(student, exercise.id)?.tempo ?? stated?.now ?? exercise.tempo?.from ?? stated?.goal;
  if (now === undefined) return undefined;
  return { now, goal: Math.max(now, stated?.goal ?? exercise.tempo?.to ?? now) };
}

export type NewProgress = { readonly student: string; readonly exercise: string; readonly tempo: number; readonly date: string };

/** The student by number from 1, or by name. */
function indexOf(source: RosterSource, who: string): number {
  const named = source.students.findIndex(({ name }) => name.trim() === who.trim());
  if (named >= 0) return named;
  return /^\d{1,4}$/.test(who) && Number(who) >= 1 && Number(who) <= source.students.length ? Number(who) - 1 : -1;
}

/**
 * The text of the roster with one more tempo. Everything else stays as it is. Issues `unknown-student`,
 * `unknown-exercise`, `tempo-range`, `date`.
 */
export function withProgress(
  text: string,
  book: Book,
  { student, exercise, tempo, date }: NewProgress,
): Result<{ readonly text: string; readonly student: number }> {
  const source = readRosterSource(text);
  if (!source.ok) return source;
  const issues: Issue[] = [];
  const index = indexOf(source.value, student);
  if (index < 0)
    issues.push(
      error(
        'unknown-student',
        [],
        `The roster has no such student; give a number from 1 to ${source.value.students.length}, or the name as it stands in the roster.`,
      ),
    );
  issues.push(...exerciseIssues(exercise, book, []));
  if (!Number.isFinite(tempo) || tempo < 20 || tempo > 400)
    issues.push(error('tempo-range', [], 'The tempo must be a number of beats a minute from 20 to 400.'));
  if (!isDate(date)) issues.push(error('date', [], `"${date}" is not a date; write year-month-day, such as "2026-03-01".`));
  if (issues.length > 0) return bad(...issues);
  const students = source.value.students.map((one, i) =>
    i === index ? { ...one, progress: [...(one.progress ?? []), { exercise, tempo, date }] } : one,
  );
  return good({ text: writeJson({ ...source.value, students }), student: index + 1 }, source.issues);
}
