/** The fields of a book file → the book that the rest of the program sees, or everything that is wrong with their meaning. */

import { bad, enough, error, good, type Issue, isError, type Result, told, under } from '../base/issue.js';
import { BREATH_DEFAULT } from '../breath/policy.js';
import type { Exercise } from '../exercise/exercise.js';
import { type Figure, parseFigure } from '../exercise/figure.js';
import { figureById } from '../exercise/figure-library.js';
import type { ScaleName } from '../theory/scale.js';
import type { Book, Chapter } from './book.js';
import { resolveBreath } from './breath.js';
import { EXTRAS_DEFAULT, LANGUAGE_DEFAULT, SPELLING_DEFAULT } from './defaults.js';
import { resolveEditions, resolveHouse, resolveSpelling } from './edition.js';
import type { BookSource, ChapterSource, ExerciseSource, SettingsSource } from './schema.js';
import { type Layer, resolveSettings } from './settings.js';

/** More than twice what 2,000 pages hold. */
const MOST_EXERCISES = 10_000;

/** Exercises that were read before without a complaint, by the very object that they were read from. */
export type KnownExercises = WeakMap<
  ExerciseSource,
  {
    readonly id: string;
    readonly chapter: SettingsSource | undefined;
    readonly book: SettingsSource | undefined;
    readonly exercise: Exercise;
  }
>;

/** `known`: lends what was read before and takes up what is read now, so that an editor reads only what changed. */
export function resolveBook(source: BookSource, known: KnownExercises = new WeakMap()): Result<Book> {
  const count = source.chapters.reduce((sum, chapter) => sum + chapter.exercises.length, 0);
  if (count > MOST_EXERCISES) {
    const words = `The book has ${count} exercises, and ${MOST_EXERCISES} are the most that is read; part it into volumes.`;
    return bad(error('too-many-exercises', ['chapters'], words));
  }
  const issues: Issue[] = [];
  const house = resolveHouse(source.house, issues);
  const spelling = resolveSpelling(source.spelling, SPELLING_DEFAULT, ['spelling'], issues);
  const breath = resolveBreath(source.breath, BREATH_DEFAULT, ['breath'], issues);
  checkDate(source.date, issues);
  checkLanguage(source.language ?? LANGUAGE_DEFAULT, issues);
  if (source.editions.length === 0) {
    issues.push(error('no-editions', ['editions'], 'The book has no edition; write at least one instrument, such as ["flute"].'));
  }
  if (source.chapters.length === 0) {
    issues.push(error('no-chapters', ['chapters'], 'The book has no chapter; write at least one, with a title and exercises.'));
  }
  checkIds(source, issues);
  const editions = resolveEditions(source.editions, house, spelling, breath, issues);
  const chapters = source.chapters.map((chapter, i) => resolveChapter(chapter, i, source, issues, known));

  const found = withoutRepeats(issues);
  if (found.some(isError)) return { ok: false, issues: told(found) };
  const book: Book = {
    version: 1,
    title: source.title,
    subtitle: source.subtitle ?? '',
    author: source.author ?? '',
    publisher: source.publisher ?? '',
    copyright: source.copyright ?? '',
    date: source.date,
    language: source.language ?? LANGUAGE_DEFAULT,
    preface: prose(source.preface),
    howToUse: prose(source.howToUse),
    house,
    extras: { ...EXTRAS_DEFAULT, ...source.extras },
    spelling,
    breath,
    editions: editions.filter((edition) => edition !== undefined),
    chapters,
  };
  return good(book, told(found));
}

function prose(source: string | readonly string[] | undefined): string {
  const text = typeof source === 'object' ? source.join('\n') : (source ?? '');
  return text.replaceAll('\r\n', '\n').trim();
}

const chapterId = (chapter: ChapterSource, index: number): string => chapter.id ?? `chapter-${index + 1}`;

/** `2.3` is the third exercise of the second chapter. */
const exerciseId = (exercise: ExerciseSource, chapter: number, index: number): string => exercise.id ?? `${chapter + 1}.${index + 1}`;

/** Ids are one name for one thing in the whole book; those that are given by position count too. */
function checkIds(source: BookSource, issues: Issue[]): void {
  const firstUse = (what: string) => {
    const seen = new Map<string, string>();
    return (id: string, path: readonly (string | number)[], place: string) => {
      const first = seen.get(id);
      if (first === undefined) seen.set(id, place);
      else issues.push(error('id-twice', [...path, 'id'], `The id "${id}" belongs to ${first} already; give this ${what} another one.`));
    };
  };
  const useChapter = firstUse('chapter');
  const useExercise = firstUse('exercise');
  source.chapters.forEach((chapter, c) => {
    useChapter(chapterId(chapter, c), ['chapters', c], `chapter ${c + 1}`);
    chapter.exercises.forEach((exercise, e) => {
      useExercise(exerciseId(exercise, c, e), ['chapters', c, 'exercises', e], `chapter ${c + 1}, exercise ${e + 1}`);
    });
  });
}

function resolveChapter(source: ChapterSource, index: number, book: BookSource, issues: Issue[], known: KnownExercises): Chapter {
  const path = ['chapters', index];
  if (source.exercises.length === 0) {
    const words = `The chapter "${source.title}" has no exercise; write at least one, or remove the chapter.`;
    issues.push(error('empty-chapter', [...path, 'exercises'], words));
  }
  const layers: Layer[] = [
    { settings: source.defaults, path: [...path, 'defaults'] },
    { settings: book.defaults, path: ['defaults'] },
  ];
  const exercises = source.exercises.map((exercise, e) => {
    if (enough(issues)) return undefined;
    const id = exerciseId(exercise, index, e);
    const before = known.get(exercise);
    if (before?.id === id && before.chapter === source.defaults && before.book === book.defaults) return before.exercise;
    const told = issues.length;
    const found = resolveExercise(exercise, id, [...path, 'exercises', e], layers, issues);
    // What is told of an exercise names its place, which may be another one the next time.
    if (found && issues.length === told) known.set(exercise, { id, chapter: source.defaults, book: book.defaults, exercise: found });
    return found;
  });
  return {
    id: chapterId(source, index),
    title: source.title,
    text: prose(source.text),
    exercises: exercises.filter((exercise) => exercise !== undefined),
  };
}

type NamedFigure = { readonly figure: Figure; readonly title: string; readonly scale?: ScaleName };

function resolveFigure(source: ExerciseSource['figure']): Result<NamedFigure> {
  if (typeof source === 'string') {
    const result = parseFigure(source);
    return result.ok ? good({ figure: result.value, title: source }, result.issues) : result;
  }
  const found = figureById(source.library);
  if (!found.ok) return bad(...under(['library'], found.issues));
  const { figure, title, scale } = found.value;
  return good({ figure, title, scale });
}

function resolveExercise(
  source: ExerciseSource,
  id: string,
  path: readonly (string | number)[],
  outer: readonly Layer[],
  issues: Issue[],
): Exercise | undefined {
  const found = resolveFigure(source.figure);
  issues.push(...under([...path, 'figure'], found.issues));
  const library = found.ok ? found.value.scale : undefined;
  // A library figure brings its scale, which serves where the book names none.
  const layers: Layer[] = [{ settings: source, path }, ...outer, { settings: library && { scale: library }, path: [...path, 'figure'] }];
  const settings = resolveSettings(layers, issues);
  if (!found.ok || !settings) return undefined;
  return { id, title: source.title ?? found.value.title, instruction: prose(source.instruction), figure: found.value.figure, ...settings };
}

function checkDate(date: string, issues: Issue[]): void {
  const [, year, month, day] = (/^(\d{4})-(\d{2})-(\d{2})$/.exec(date) ?? []).map(Number);
  const at = year !== undefined && month && day ? new Date(Date.UTC(year, month - 1, day)) : undefined;
  if (at && at.getUTCMonth() + 1 === month && at.getUTCDate() === day) return;
  issues.push(error('date', ['date'], `"${date}" is not a date; write year-month-day, such as "2026-03-01".`));
}

function checkLanguage(language: string, issues: Issue[]): void {
  try {
    Intl.getCanonicalLocales(language);
  } catch {
    issues.push(error('language', ['language'], `"${language}" is not a language tag; write one such as "en-US" or "de".`));
  }
}

/** A fault in the defaults is met once for each exercise that follows them, and told once. */
function withoutRepeats(issues: readonly Issue[]): Issue[] {
  return [...new Map(issues.map((issue) => [JSON.stringify(issue), issue])).values()];
}
