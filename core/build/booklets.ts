/** The pipeline of a roster: a student's assignments → lines → breaths → the pages of a booklet; and the teacher's summary. */

import { assert, bad, error, good, type Issue, isError, type Result, warning } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { readerSpec } from '../book/reader-spec.js';
import { bookletBreathingPage } from '../breath/page.js';
import { airOf, type BreathedExercise, breathsOf, inTimeFor, type ReaderBreaths } from '../breath/policy.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Exercise } from '../exercise/exercise.js';
import { beatOf } from '../exercise/tempo.js';
import { bookletDocument } from '../layout/booklet-pages.js';
import { shortDate } from '../layout/matter/booklet-lists.js';
import type { Document } from '../layout/page/page.js';
import { sheetOf } from '../layout/page/sheet.js';
import { summaryDocument } from '../layout/summary-pages.js';
import { type Assigned, assignedTo } from '../people/assignment.js';
import type { Roster, Student } from '../people/roster.js';
import type { Line } from '../player/line.js';
import { realise } from '../player/realise.js';
import type { ProvedEdition } from '../proof/proved-edition.js';

/**
 * The exercise as the student has it: at the student's tempos, and never beyond the student's compass. Keys that do not
 * fit are left out, and the page says so.
 */
function forStudent({ exercise, tempo }: Assigned): Exercise {
  const within: Exercise = exercise.misfit.kind === 'turn' ? exercise : { ...exercise, misfit: { kind: 'leave-out' } };
  if (!tempo) return within;
  return { ...within, tempo: { beat: beatOf(exercise), from: tempo.now, to: tempo.goal } };
}

/** Names stay out of messages: the student is known by the place in the roster. */
const quiet = (issues: readonly Issue[], index: number): Issue[] =>
  issues.map((issue) => ({ ...issue, path: ['students', index], severity: issue.severity === 'error' ? 'warning' : issue.severity }));

function linesOf(assigned: readonly Assigned[], student: Student, index: number): { lines: Map<string, Line>; issues: Issue[] } {
  const lines = new Map<string, Line>();
  const issues: Issue[] = [];
  for (const own of assigned) {
    const { exercise } = own;
    const line = realise(forStudent(own), student.player, own.without);
    if (line.ok) lines.set(exercise.id, line.value);
    else
      issues.push(
        warning(
          'left-out-of-booklet',
          ['students', index],
          `The exercise "${exercise.id}" fits this student's compass in none of the keys, so it is not printed; widen the compass, or assign another.`,
        ),
      );
  }
  return { lines, issues };
}

/** The breaths of the student's lungs at the student's tempos; undefined for an instrument without breath. */
function breathe(
  assigned: readonly Assigned[],
  lines: ReadonlyMap<string, Line>,
  { breather, player }: Student,
): { breathing: ReaderBreaths<BreathedExercise> | undefined; issues: Issue[] } {
  const settings = inTimeFor(breather);
  const air = airOf(player.instrument, settings);
  assert(air.ok, 'the lungs of a student were checked when the roster was read');
  if (!air.value) return { breathing: undefined, issues: [] };
  const exercises = new Map<string, BreathedExercise>();
  const issues: Issue[] = [];
  for (const { exercise, tempo } of assigned) {
    const line = lines.get(exercise.id);
    if (!line || !tempo) continue;
    const found = breathsOf(line, settings);
    issues.push(...found.issues);
    if (found.ok && found.value) exercises.set(exercise.id, found.value);
  }
  const { manner, added } = settings;
  return { breathing: { lung: air.value, manner, added, ladders: true, exercises, text: bookletBreathingPage(air.value.words) }, issues };
}

/** First days of the weeks, as `3/2`. */
function weekDates({ begins, weeks }: Roster): string[] {
  return Array.from({ length: weeks }, (_, i) => {
    if (begins === undefined) return '';
    const at = new Date(`${begins}T00:00:00Z`);
    at.setUTCDate(at.getUTCDate() + 7 * i);
    return shortDate(at.toISOString().slice(0, 10));
  });
}

/** The booklet of a student, with what its proof needs. Issues `booklet-empty` and those of `assignedTo`, with paths into the roster and no names. */
export function buildBooklet(book: Book, roster: Roster, index: number, date: string, fonts: Fonts): Result<ProvedEdition> {
  const student = roster.students[index] as Student;
  const { assigned, issues } = assignedTo(book, roster, index);
  if (issues.some(isError)) return bad(...issues);
  const made = linesOf(assigned, student, index);
  const told = [...issues, ...made.issues];
  if (made.lines.size === 0)
    return bad(
      error(
        'booklet-empty',
        ['students', index],
        'Nothing can be printed for this student: give an assignment that fits the keys and the compass.',
      ),
      ...told,
    );
  const { breathing, issues: breaths } = breathe(assigned, made.lines, student);
  const sheet = sheetOf(book, { page: student.page, staff: student.staff, level: student.player.level }, student.player, fonts);
  const spec = readerSpec(student, inTimeFor(student.breather));
  const document = bookletDocument(
    { book, spec, student, title: roster.title, date, weekDates: weekDates(roster), assigned, lines: made.lines, breathing },
    sheet,
  );
  const { player } = student;
  const unwanted = new Map(assigned.map(({ exercise, without }) => [exercise.id, without.size]));
  const proved = { part: player.instrument.name, unwanted, lines: made.lines, breathing };
  return good({ spec, player, document, ...proved }, [...told, ...quiet(breaths, index)]);
}

/** The summary page of a roster. */
export function buildSummary(book: Book, roster: Roster, date: string, fonts: Fonts): Result<Document> {
  const all = roster.students.map((_, i) => assignedTo(book, roster, i));
  const issues = all.flatMap((one) => one.issues);
  if (issues.some(isError)) return bad(...issues);
  const assigned = all.map((one) => one.assigned);
  if (assigned.every((list) => list.length === 0))
    return bad(error('summary-empty', ['students'], 'Nothing is assigned to any student, so there is nothing to sum up; add assignments.'));
  const { setting } = sheetOf(book, { page: undefined, staff: 7, level: 'professional' }, (roster.students[0] as Student).player, fonts);
  return good(summaryDocument({ book, roster, date, assigned }, setting), issues);
}
