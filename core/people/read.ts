/**
 * Text of a roster file → the roster for a book, or everything that is wrong with it. Messages speak of students by their
 * place in the list and do not repeat what stands in the file about them, so that no name gets into a log.
 */

import { enough, error, good, type Issue, isError, type Result, told, under } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { breatherOf } from '../book/breath.js';
import { checkFields } from '../book/check-fields.js';
import { readCompanion } from '../book/companion.js';
import { LEVEL_DEFAULT } from '../book/defaults.js';
import { resolveCompass, resolveSpelling } from '../book/edition.js';

import { lungTime } from '../breath/lung-time.js';
import { exerciseIssues } from '../ensemble/read.js';
import type { Level } from '../exercise/exercise.js';
import { instrumentById } from '../player/catalogue.js';
import { playerOf } from '../player/compass.js';
import { type Key, keyFifths } from '../theory/key.js';
import { parseClass } from '../theory/pitch.js';
import type { Assignment, Roster, Student, TempoGoal } from './roster.js';
import { type RosterSource, rosterShape, type StudentSource, WEEKS_DEFAULT } from './schema.js';

export const ROSTER_FILE = { format: 'twelvefold-roster', version: 1, what: 'a roster' } as const;

type Path = readonly (string | number)[];

/** `This is the text "…"; write …` without the text. */
const unquoted = (issue: Issue): Issue => ({
  ...issue,
  message: issue.message.replace(/^This is (?:the text ".*?"|-?[\d.]+)(?=; write )/s, 'This cannot be used'),
});

/** Reads `Bb` or `F#m`, a key that a signature can show. */
function parseKey(text: string): Key | undefined {
  const [, tonic = '', minor] = /^\s*(.*?)(m?)\s*$/.exec(text) ?? [];
  const found = parseClass(tonic);
  const key: Key | undefined = found && { tonic: found, mode: minor === 'm' ? 'minor' : 'major' };
  return key && Math.abs(keyFifths(key)) <= 7 ? key : undefined;
}

function resolveKeys(source: readonly string[] | undefined, path: Path, issues: Issue[]): readonly Key[] | undefined {
  return source?.flatMap((text, i): Key[] => {
    const key = parseKey(text);
    if (!key)
      issues.push(
        error('unknown-key', [...path, i], `"${text}" is not a key; write a note name such as "Bb", with "m" behind it for minor.`),
      );
    return key ? [key] : [];
  });
}

/** True for a day of the calendar. */
export function isDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const at = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().slice(0, 10) === text;
}

const dateIssue = (path: Path): Issue => error('date', path, 'This is not a date; write year-month-day, such as "2026-03-01".');

function resolveAssignments(source: StudentSource, weeks: number, book: Book, path: Path, issues: Issue[]): Assignment[] {
  return (source.assignments ?? []).map((assignment, a): Assignment => {
    const at = [...path, 'assignments', a];
    assignment.exercises.forEach((id, e) => {
      if (!enough(issues)) issues.push(...exerciseIssues(id, book, [...at, 'exercises', e]));
    });
    if (assignment.exercises.length === 0)
      issues.push(error('empty-assignment', [...at, 'exercises'], 'This assignment names no exercise; name one, or remove it.'));
    assignment.weeks?.forEach((week, w) => {
      if (week > weeks)
        issues.push(
          error(
            'week-beyond-term',
            [...at, 'weeks', w],
            `The term has ${weeks} weeks; write a week from 1 to ${weeks}, or make "weeks" of the roster larger.`,
          ),
        );
    });
    return {
      exercises: assignment.exercises,
      keys: resolveKeys(assignment.keys, [...at, 'keys'], issues),
      weeks: assignment.weeks && [...new Set(assignment.weeks)].sort((a, b) => a - b),
    };
  });
}

function resolveTempos(source: StudentSource, book: Book, path: Path, issues: Issue[]): Map<string, TempoGoal> {
  const tempos = new Map<string, TempoGoal>();
  (source.tempos ?? []).forEach(({ exercise, now, goal }, t) => {
    const at = [...path, 'tempos', t];
    if (!enough(issues)) issues.push(...exerciseIssues(exercise, book, [...at, 'exercise']));
    if (tempos.has(exercise))
      issues.push(
        error('tempo-twice', [...at, 'exercise'], `The tempos of "${exercise}" are stated already; keep one of the two entries.`),
      );
    if (now !== undefined && goal !== undefined && goal < now)
      issues.push(
        error('goal-below-now', [...at, 'goal'], 'The goal is slower than the present tempo; exchange the two, or raise the goal.'),
      );
    tempos.set(exercise, { now, goal });
  });
  return tempos;
}

function resolveStudent(source: StudentSource, weeks: number, book: Book, path: Path, issues: Issue[]): Student | undefined {
  const instrument = instrumentById(source.instrument);
  if (!instrument.ok) {
    issues.push(...under([...path, 'instrument'], instrument.issues));
    return undefined;
  }
  const level: Level = source.level ?? LEVEL_DEFAULT;
  const found: Issue[] = [];
  const compass = resolveCompass(source.compass, instrument.value.compass[level], [...path, 'compass'], found);
  const spelling = resolveSpelling(source.spelling, book.spelling, [...path, 'spelling'], found);
  const player = playerOf({ instrument: instrument.value.id, level, compass, spelling });
  const breather = source.breath ? breatherOf(source.breath) : {};
  found.push(...under(path, player.issues), ...under([...path, 'breath'], lungTime(breather, instrument.value).issues));
  const keys = resolveKeys(source.keys, [...path, 'keys'], found);
  const assignments = resolveAssignments(source, weeks, book, path, found);
  const tempos = resolveTempos(source, book, path, found);
  (source.progress ?? []).forEach(({ date }, p) => {
    if (!isDate(date)) found.push(dateIssue([...path, 'progress', p, 'date']));
  });
  issues.push(...told(found));
  if (!player.ok || found.some(isError)) return undefined;
  return {
    name: source.name.trim(),
    player: player.value,
    staff: source.staff,
    page: source.page,
    breather,
    keys,
    tempos,
    assignments,
    progress: source.progress ?? [],
  };
}

/** Names are compared as they read: capitals, accents written in one way or another, and spaces do not tell people apart. */
const plainName = (name: string): string => name.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ').trim();

function checkNames(source: RosterSource, issues: Issue[]): void {
  const seen = new Map<string, number>();
  source.students.forEach(({ name }, i) => {
    const plain = plainName(name);
    const path = ['students', i, 'name'];
    if (plain === '') issues.push(error('name-empty', path, 'The name is empty; write a name or initials.'));
    const first = seen.get(plain);
    if (first === undefined) seen.set(plain, i);
    else
      issues.push(
        error('name-twice', path, `Student ${i + 1} has the same name as student ${first + 1}; add an initial or a number to one of them.`),
      );
  });
}

export function resolveRoster(source: RosterSource, book: Book): Result<Roster> {
  const issues: Issue[] = [];
  const weeks = source.weeks ?? WEEKS_DEFAULT;
  if (source.begins !== undefined && !isDate(source.begins)) issues.push(dateIssue(['begins']));
  if (source.students.length === 0) issues.push(error('roster-empty', ['students'], 'The roster has no student; add one.'));
  checkNames(source, issues);
  const students = source.students.map((student, i) =>
    enough(issues) ? undefined : resolveStudent(student, weeks, book, ['students', i], issues),
  );
  if (issues.some(isError)) return { ok: false, issues: told(issues) };
  return good({ title: source.title ?? '', begins: source.begins, weeks, students: students as Student[] }, issues);
}

/** Text of a roster file → its fields, checked for shape only: what is changed and saved. */
export function readRosterSource(text: string): Result<RosterSource> {
  const file = readCompanion(text, ROSTER_FILE);
  if (!file.ok) return file;
  const source = checkFields(rosterShape, file.value);
  const issues = source.issues.map(unquoted);
  return source.ok ? good(source.value, issues) : { ok: false, issues };
}

/** Text of a roster file → the roster as it uses this book. Paths of issues lead into the roster's file. */
export function readRoster(text: string, book: Book): Result<Roster> {
  const source = readRosterSource(text);
  if (!source.ok) return source;
  const roster = resolveRoster(source.value, book);
  const issues = [...source.issues, ...roster.issues];
  return roster.ok ? good(roster.value, issues) : { ok: false, issues };
}
