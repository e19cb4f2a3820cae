/** Edits of a roster as functions of its source: a new source, the old one untouched. */
import type { RosterSource, StudentSource } from '../../core/people/schema.js';
import { recordsIn, withFields } from './list.js';

export const newRoster = (today: string): RosterSource => ({
  format: 'twelvefold-roster',
  version: 1,
  begins: today,
  weeks: 8,
  students: [],
});

export const STUDENTS = recordsIn<RosterSource, StudentSource>(
  (roster) => roster.students,
  (roster, students) => ({ ...roster, students }),
  ['name', 'instrument'],
);

/** A name that nobody in the roster has: `Student 3`. */
export function freeName(roster: RosterSource, stem: string): string {
  const used = new Set(roster.students.map(({ name }) => name));
  for (let n = roster.students.length + 1; ; n++) if (!used.has(`${stem} ${n}`)) return `${stem} ${n}`;
}

type ItemOf<K extends 'assignments' | 'tempos' | 'progress'> = NonNullable<StudentSource[K]>[number];
export type Assignment = ItemOf<'assignments'>;

export const ASSIGNMENTS = recordsIn<StudentSource, Assignment>(
  (student) => student.assignments ?? [],
  (student, assignments) => withFields(student, { assignments }),
  ['exercises'],
);

/** Every tempo reached, in the order written. */
export const PROGRESS = recordsIn<StudentSource, ItemOf<'progress'>>(
  (student) => student.progress ?? [],
  (student, progress) => withFields(student, { progress }),
  ['exercise', 'tempo', 'date'],
);

const TEMPOS = recordsIn<StudentSource, ItemOf<'tempos'>>(
  (student) => student.tempos ?? [],
  (student, tempos) => withFields(student, { tempos }),
  ['exercise'],
);

/** The tempos of an exercise; both empty take the entry out. */
export function setTempo(student: StudentSource, exercise: string, part: Pick<ItemOf<'tempos'>, 'now' | 'goal'>): StudentSource {
  const at = TEMPOS.of(student).findIndex((it) => it.exercise === exercise);
  const index = at < 0 ? TEMPOS.of(student).length : at;
  const next = TEMPOS.set(at < 0 ? TEMPOS.add(student, { exercise }) : student, index, part);
  const { now, goal } = TEMPOS.of(next)[index] ?? {};
  return now === undefined && goal === undefined ? TEMPOS.remove(next, index) : next;
}

/** Exercises that a student has something to do with, in the book's order; those that the book has not come last. */
export function exercisesOf(student: StudentSource, order: readonly string[]): string[] {
  const all = new Set([
    ...ASSIGNMENTS.of(student).flatMap(({ exercises }) => exercises),
    ...TEMPOS.of(student).map(({ exercise }) => exercise),
    ...PROGRESS.of(student).map(({ exercise }) => exercise),
  ]);
  return [...order.filter((id) => all.has(id)), ...[...all].filter((id) => !order.includes(id))];
}

/** The tempo written down last by its date, as the command line finds it. */
export function latestTempo(student: StudentSource, exercise: string): { readonly tempo: number; readonly date: string } | undefined {
  const own = PROGRESS.of(student).filter((it) => it.exercise === exercise);
  return own.reduce<(typeof own)[number] | undefined>((a, b) => (a && a.date > b.date ? a : b), undefined);
}
