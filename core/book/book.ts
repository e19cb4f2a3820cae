/** The book as the rest of the program sees it: read, migrated, checked, every default filled in. */

import type { Mm } from '../base/units.js';
import type { BreathSettings } from '../breath/policy.js';
import type { Exercise, Level } from '../exercise/exercise.js';
import type { Compass, SpellingPreference } from '../player/player.js';

export type PageSize = 'letter' | 'a4' | '9x12' | 'jis-b4';

export type House = {
  readonly page: PageSize;
  /** Height of the staff in millimetres, 7 to 9; per edition by reading level when undefined. */
  readonly staff: Mm | undefined;
  readonly margins: { readonly top: Mm; readonly bottom: Mm; readonly inner: Mm; readonly outer: Mm };
  readonly binding: 'none' | 'stapled' | 'punched' | 'perfect';
  readonly bleed: Mm;
  readonly cropMarks: boolean;
  /** Chapters open on a right-hand page. */
  readonly chaptersOnRight: boolean;
};

/** One printing for one instrument; what is undefined follows the book. */
export type EditionSpec = {
  readonly instrument: string;
  readonly level: Level;
  readonly compass: Compass | undefined;
  readonly spelling: SpellingPreference;
  readonly staff: Mm | undefined;
  readonly page: PageSize | undefined;
  readonly breath: BreathSettings;
};

export type Chapter = {
  readonly id: string;
  readonly title: string;
  /** Markdown. */
  readonly text: string;
  readonly exercises: readonly Exercise[];
};

/** Pages beside the chapters, each on when true. */
export type Extras = {
  readonly compassChart: boolean;
  readonly keyChart: boolean;
  readonly scaleAppendix: boolean;
  readonly figureIndex: boolean;
  readonly keyIndex: boolean;
  readonly contentsGrid: boolean;
  readonly metronomeLadder: boolean;
  readonly practiceRecord: boolean;
};

export type Book = {
  readonly version: 1;
  readonly title: string;
  readonly subtitle: string;
  readonly author: string;
  readonly publisher: string;
  readonly copyright: string;
  /** ISO date of this printing; every output takes its dates from here. */
  readonly date: string;
  /** BCP 47: `en-US`. */
  readonly language: string;
  /** Markdown; empty strings leave the page out. */
  readonly preface: string;
  readonly howToUse: string;
  readonly house: House;
  readonly extras: Extras;
  readonly spelling: SpellingPreference;
  readonly breath: BreathSettings;
  readonly editions: readonly EditionSpec[];
  readonly chapters: readonly Chapter[];
};
