/** A rule of the proof as a value, and what it may look at in each scope. */

import type { Mm } from '../base/units.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Document } from '../layout/page/page.js';
import type { ExerciseSummary } from './exercise-summary.js';
import type { Finding } from './fault.js';
import type { PageContents, PlacedPage } from './placed-page.js';
import type { PlacedDrawing, PlacedExercise, PlacedSystem } from './placed-system.js';
import type { Breathing } from './proved-edition.js';
import type { PlayedBar } from './replay.js';
import type { SpreadPage } from './spread-page.js';

/** What an edition offers, scope by scope. A drawing and a system are let go of when their exercise has been looked at. */
export type Offers = {
  /** Each drawing of music: the systems of the exercises, and the examples in texts. */
  readonly drawing: { readonly at: PlacedDrawing; readonly fonts: Fonts };
  readonly system: { readonly at: PlacedSystem; readonly fonts: Fonts };
  readonly exercise: {
    readonly exercise: PlacedExercise;
    /** As read off its systems. */
    readonly bars: readonly PlayedBar[];
    readonly breathing: Breathing | undefined;
    readonly fonts: Fonts;
  };
  readonly page: {
    readonly document: Document;
    readonly placed: PlacedPage;
    /** Height chosen for the edition. */
    readonly staff: Mm;
    /** Number due; undefined on pages with small roman numerals. */
    readonly arabic: number | undefined;
    /** What the page names in its head. */
    readonly instrument: string;
    readonly fonts: Fonts;
  };
  readonly edition: {
    readonly document: Document;
    readonly pages: readonly PageContents[];
    readonly staff: Mm;
    readonly sheet: { readonly width: Mm; readonly height: Mm };
    /** By exercise id: the numbers due where they are those of another book. */
    readonly numbers: ReadonlyMap<string, number> | undefined;
  };
};

/** What the parts of an ensemble offer together; an edition is a part alone. */
export type SharedOffers = {
  /** An exercise in each part that has it. */
  readonly sharedExercise: readonly ExerciseSummary[];
  /** The pages of each part. */
  readonly sharedPages: readonly (readonly SpreadPage[])[];
};

/** By part; undefined for a part that the rule does not judge. */
export type SharedFindings = readonly (readonly Finding[] | undefined)[];

export type Scope = keyof Offers;
export type SharedScope = keyof SharedOffers;

export type Checks = { readonly [S in Scope]?: (offered: Offers[S]) => readonly Finding[] };
export type SharedChecks = { readonly [S in SharedScope]?: (offered: SharedOffers[S]) => SharedFindings };

export type Rule = {
  /** As printed, and in the order of the report. */
  readonly number: number;
  /** Kebab-case, for programs. */
  readonly id: string;
  /** One sentence, as the report prints it. */
  readonly title: string;
  /** By scope: what is wrong in that which the scope offers. A rule has a check for each scope in which it is about something. */
  readonly check: Checks & SharedChecks;
};
