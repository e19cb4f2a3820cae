/** Edits of a book as functions of its source: a new source, the old one untouched. */
import { EXERCISE_DEFAULTS } from '../../core/book/defaults.js';
import type { BookSource, ChapterSource, EditionSource, ExerciseSource, SettingsSource } from '../../core/book/schema.js';
import type { Focus } from '../state/state.js';
import { listIn, recordsIn, withFields } from './list.js';

export type Setting = keyof SettingsSource;

export const CHAPTERS = recordsIn<BookSource, ChapterSource>(
  (source) => source.chapters,
  (source, chapters) => ({ ...source, chapters }),
  ['title'],
);

/** The exercises of one chapter. */
export const exercisesIn = (chapter: number) =>
  recordsIn<BookSource, ExerciseSource>(
    (source) => source.chapters[chapter]?.exercises ?? [],
    (source, exercises) => CHAPTERS.change(source, chapter, (before) => ({ ...before, exercises })),
    ['figure'],
  );

export const exerciseAt = (source: BookSource, { chapter, exercise }: Focus): ExerciseSource | undefined =>
  source.chapters[chapter]?.exercises[exercise];

export const setBook = (source: BookSource, part: Partial<BookSource>): BookSource => withFields(source, part, ['title', 'date']);

export const setExercise = (source: BookSource, { chapter, exercise }: Focus, part: Partial<ExerciseSource>): BookSource =>
  exercisesIn(chapter).set(source, exercise, part);

/** Takes an exercise out and puts it before the place `to`, counted without it; into another chapter too. */
export function moveExercise(source: BookSource, from: Focus, to: Focus): BookSource {
  const moved = exerciseAt(source, from);
  return moved ? exercisesIn(to.chapter).add(exercisesIn(from.chapter).remove(source, from.exercise), moved, to.exercise) : source;
}

/** What holds for an exercise: its own value, its chapter's, the book's, the program's; and whether it is its own. */
export function settingOf<K extends Setting>(source: BookSource, focus: Focus, field: K): { value: SettingsSource[K]; own: boolean } {
  const chapter = source.chapters[focus.chapter];
  const exercise: SettingsSource | undefined = chapter?.exercises[focus.exercise];
  const own = exercise?.[field];
  if (own !== undefined) return { value: own, own: true };
  const standard: SettingsSource = EXERCISE_DEFAULTS;
  return { value: chapter?.defaults?.[field] ?? source.defaults?.[field] ?? standard[field], own: false };
}

/** Names in use, so that a new one is free. */
export function freeId(source: BookSource, stem: string): string {
  const used = new Set(source.chapters.flatMap((chapter) => [chapter.id, ...chapter.exercises.map((it) => it.id)]));
  for (let n = 1; ; n++) if (!used.has(`${stem}-${n}`)) return `${stem}-${n}`;
}

/** Where an exercise goes one step up or down, over the ends of chapters too. */
export function neighbourPlace(source: BookSource, { chapter, exercise }: Focus, step: -1 | 1): Focus | undefined {
  const own = source.chapters[chapter]?.exercises.length ?? 0;
  const to = exercise + step;
  if (to >= 0 && to < own) return { chapter, exercise: to };
  const next = source.chapters[chapter + step];
  if (!next) return undefined;
  return { chapter: chapter + step, exercise: step > 0 ? 0 : next.exercises.length };
}

/** The exercise before or after, over the ends of chapters. */
export function neighbour(source: BookSource, focus: Focus, step: -1 | 1): Focus | undefined {
  const all = source.chapters.flatMap((chapter, c) => chapter.exercises.map((_, e) => ({ chapter: c, exercise: e })));
  const at = all.findIndex((it) => it.chapter === focus.chapter && it.exercise === focus.exercise);
  return all[at + step];
}

export type EditionObject = Exclude<EditionSource, string>;
export const editionObject = (edition: EditionSource): EditionObject => (typeof edition === 'string' ? { instrument: edition } : edition);

const editions = listIn<BookSource, EditionSource>(
  (source) => source.editions,
  (source, list) => ({ ...source, editions: list }),
);

/** An edition that says no more than its instrument stays as short as it was written, until a field of it is changed. */
export const EDITIONS = {
  ...editions,
  set: (source: BookSource, at: number, part: Partial<EditionObject>): BookSource =>
    editions.change(source, at, (before) => withFields(editionObject(before), part, ['instrument'])),
};

type Breath = NonNullable<EditionObject['breath']>;
const MANNERS = { 'in-time': 'in time', 'added-beat': 'added beat' } as const;

/** What an edition prints of breath: its own settings, else the book's, else the program's. */
export function printedBreath(source: BookSource, index: number): Required<Pick<Breath, 'print' | 'manner'>> & Pick<Breath, 'player'> {
  const given = source.editions[index];
  const own = given === undefined ? undefined : editionObject(given).breath;
  return {
    print: own?.print ?? source.breath?.print ?? 'marks and ladders',
    manner: own?.manner ?? source.breath?.manner ?? 'in time',
    player: own?.player ?? source.breath?.player,
  };
}

/** Marks for this player's lungs and in this manner; an edition that printed none prints them now. */
export function printBreaths(source: BookSource, index: number, player: Breath['player'], manner: keyof typeof MANNERS): BookSource {
  const given = source.editions[index];
  const own = given === undefined ? undefined : editionObject(given).breath;
  const print = printedBreath(source, index).print === 'none' ? { print: 'marks and ladders' as const } : {};
  return EDITIONS.set(source, index, { breath: { ...own, ...print, manner: MANNERS[manner], player } });
}

/** True when the printed marks are for this player and in this manner. */
export function printsBreaths(source: BookSource, index: number, player: Breath['player'], manner: keyof typeof MANNERS): boolean {
  const printed = printedBreath(source, index);
  const facts = (it: Breath['player']) => JSON.stringify(Object.entries(it ?? { lungs: 'adult' }).sort(([a], [b]) => a.localeCompare(b)));
  return printed.print !== 'none' && printed.manner === MANNERS[manner] && facts(printed.player) === facts(player);
}

/** The degrees of an exercise's figure as text; of a library figure what the library says. */
export const figureTextOf = (exercise: ExerciseSource | undefined, library: (id: string) => string | undefined): string => {
  const figure = exercise?.figure;
  if (figure === undefined) return '';
  return typeof figure === 'string' ? figure : (library(figure.library) ?? figure.library);
};

export const proseText = (value: string | readonly string[] | undefined): string =>
  typeof value === 'object' ? value.join('\n') : (value ?? '');

/** One line as text, several as a list of lines, so that the file stays readable. */
export const proseSource = (text: string): string | string[] => (text.includes('\n') ? text.split('\n') : text);
