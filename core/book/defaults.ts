/** What a book says when its author does not say it. */

import type { Mm } from '../base/units.js';
import type { Level } from '../exercise/exercise.js';
import type { SpellingPreference } from '../player/player.js';
import type { Book, EditionSpec, Extras, House, PageSize } from './book.js';

/** Settings of an exercise where neither the exercise, its chapter nor the book states them. The tempo beat follows the metre. */
export const EXERCISE_DEFAULTS = {
  scale: 'major',
  rhythm: 'eighths',
  metre: '4/4',
  padding: 'bar, long note',
  order: 'fourths',
  directions: 'up',
  passes: 1,
  turnaround: 'restart',
  start: 'lowest',
  ending: 'none',
  contour: 'nearest',
  misfit: 'report',
  articulation: '',
  signs: 'accidentals',
  simpleSpelling: false,
  keyNames: true,
  degreeNumbers: true,
} as const;

export const LANGUAGE_DEFAULT = 'en-US';

export const LEVEL_DEFAULT: Level = 'intermediate';

/** Flats: wind books lean to flats, since key cycles mostly arrive from D flat. (Common practice.) */
export const SPELLING_DEFAULT: SpellingPreference = { tie: 'flats', prefer: [] };

/** Staff height in millimetres by reading level: large for beginners, the size of printed parts for the rest. (Common practice.) */
const STAFF_BY_LEVEL: Readonly<Record<Level, Mm>> = { beginner: 9, intermediate: 7.5, advanced: 7.5, professional: 7 };

/** Inner margin in millimetres: punched and perfect-bound books lose 5 to 10 mm at the spine. (Common practice.) */
const INNER_BY_BINDING: Readonly<Record<House['binding'], Mm>> = { none: 15, stapled: 17, punched: 22, perfect: 24 };

export function houseDefaults(binding: House['binding'] = 'stapled'): House {
  return {
    page: '9x12',
    staff: undefined,
    margins: { top: 15, bottom: 17, inner: INNER_BY_BINDING[binding], outer: 15 },
    binding,
    bleed: 0,
    cropMarks: false,
    chaptersOnRight: true,
  };
}

export const EXTRAS_DEFAULT: Extras = {
  compassChart: true,
  keyChart: true,
  scaleAppendix: false,
  figureIndex: true,
  keyIndex: false,
  contentsGrid: false,
  metronomeLadder: false,
  practiceRecord: false,
};

/** Height of the staff in an edition: its own, else the book's, else by reading level. */
export const staffHeight = (book: Book, edition: Pick<EditionSpec, 'staff' | 'level'>): Mm =>
  edition.staff ?? book.house.staff ?? STAFF_BY_LEVEL[edition.level];

/** Sheet of an edition: its own, else the book's. */
export const pageSize = (book: Book, edition: Pick<EditionSpec, 'page'>): PageSize => edition.page ?? book.house.page;
