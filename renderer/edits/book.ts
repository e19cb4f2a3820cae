/** Changes of a book as functions of its source: a new source, the old one untouched. */
import { EXERCISE_DEFAULTS } from '../../core/book/defaults.js';
import type { BookSource, ChapterSource, EditionSource, ExerciseSource, SettingsSource } from '../../core/book/schema.js';
import type { Focus } from '../state/state.js';

export type Setting = keyof SettingsSource;

export const chapterAt = (source: BookSource, chapter: number): ChapterSource | undefined => source.chapters[chapter];
export const exerciseAt = (source: BookSource, { chapter, exercise }: Focus): ExerciseSource | undefined =>
  source.chapters[chapter]?.exercises[exercise];

/** Leaves a field out when its value is undefined or, for texts, empty. */
function withField<T extends object, K extends keyof T>(object: T, field: K, value: T[K] | undefined): T {
  if (value === undefined || value === '') {
    const { [field]: _, ...rest } = object;
    return rest as T;
  }
  return { ...object, [field]: value };
}

export const setBook = <K extends keyof BookSource>(source: BookSource, field: K, value: BookSource[K] | undefined): BookSource =>
  // A title is needed: an empty one stays as it is typed, and is told as a fault.
  field === 'title' || field === 'date' ? { ...source, [field]: value } : withField(source, field, value);

export const setChapters = (source: BookSource, chapters: readonly ChapterSource[]): BookSource => ({ ...source, chapters: [...chapters] });

export function setChapter(source: BookSource, chapter: number, make: (before: ChapterSource) => ChapterSource): BookSource {
  return setChapters(
    source,
    source.chapters.map((it, i) => (i === chapter ? make(it) : it)),
  );
}

export const setChapterField = <K extends keyof ChapterSource>(
  source: BookSource,
  chapter: number,
  field: K,
  value: ChapterSource[K] | undefined,
) => setChapter(source, chapter, (before) => (field === 'title' ? { ...before, [field]: value } : withField(before, field, value)));

export function setExercise(
  source: BookSource,
  { chapter, exercise }: Focus,
  make: (before: ExerciseSource) => ExerciseSource,
): BookSource {
  return setChapter(source, chapter, (before) => ({
    ...before,
    exercises: before.exercises.map((it, i) => (i === exercise ? make(it) : it)),
  }));
}

export const setExerciseField = <K extends keyof ExerciseSource>(
  source: BookSource,
  focus: Focus,
  field: K,
  value: ExerciseSource[K] | undefined,
): BookSource =>
  setExercise(source, focus, (before) =>
    field === 'figure' ? { ...before, [field]: value as ExerciseSource['figure'] } : withField(before, field, value),
  );

/** What holds for an exercise: its own value, its chapter's, the book's, the program's; and whether it is its own. */
export function settingOf<K extends Setting>(source: BookSource, focus: Focus, field: K): { value: SettingsSource[K]; own: boolean } {
  const chapter = source.chapters[focus.chapter];
  const exercise = chapter?.exercises[focus.exercise];
  const own = exercise?.[field] as SettingsSource[K] | undefined;
  if (own !== undefined) return { value: own, own: true };
  const standard = (EXERCISE_DEFAULTS as SettingsSource)[field];
  return { value: chapter?.defaults?.[field] ?? source.defaults?.[field] ?? standard, own: false };
}

/** Names in use, so that a new one is free. */
export function freeId(source: BookSource, stem: string): string {
  const used = new Set(source.chapters.flatMap((chapter) => [chapter.id, ...chapter.exercises.map((it) => it.id)]));
  for (let n = 1; ; n++) if (!used.has(`${stem}-${n}`)) return `${stem}-${n}`;
}

export function addExercise(source: BookSource, at: Focus, exercise: ExerciseSource): BookSource {
  return setChapter(source, at.chapter, (before) => ({
    ...before,
    exercises: [...before.exercises.slice(0, at.exercise), exercise, ...before.exercises.slice(at.exercise)],
  }));
}

export function removeExercise(source: BookSource, { chapter, exercise }: Focus): BookSource {
  return setChapter(source, chapter, (before) => ({ ...before, exercises: before.exercises.filter((_, i) => i !== exercise) }));
}

/** Takes an exercise out and puts it before the place `to`, counted without it. */
export function moveExercise(source: BookSource, from: Focus, to: Focus): BookSource {
  const moved = exerciseAt(source, from);
  if (!moved) return source;
  // Without a name of its own an exercise is named by its place; a moved one gets a name, so that it stays the same.
  return addExercise(removeExercise(source, from), to, moved);
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

export function moved<T>(list: readonly T[], from: number, to: number): T[] {
  const rest = list.filter((_, i) => i !== from);
  return [...rest.slice(0, to), list[from] as T, ...rest.slice(to)];
}

export type EditionObject = Exclude<EditionSource, string>;
export const editionObject = (edition: EditionSource): EditionObject => (typeof edition === 'string' ? { instrument: edition } : edition);

export function setEdition(source: BookSource, index: number, make: (before: EditionObject) => EditionObject): BookSource {
  return { ...source, editions: source.editions.map((it, i) => (i === index ? make(editionObject(it)) : it)) };
}

export const setEditionField = <K extends keyof EditionObject>(
  source: BookSource,
  index: number,
  field: K,
  value: EditionObject[K] | undefined,
) => setEdition(source, index, (before) => withField(before, field, value));

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
export const printBreaths = (source: BookSource, index: number, player: Breath['player'], manner: keyof typeof MANNERS): BookSource =>
  setEdition(source, index, (before) => {
    const print = printedBreath(source, index).print === 'none' ? { print: 'marks and ladders' as const } : {};
    return { ...before, breath: { ...before.breath, ...print, manner: MANNERS[manner], player } };
  });

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
