/** What the job shows of a book: pages, lines, breaths and faults as plain data, with every musical word already found. */
import type { Issue } from '../../core/base/issue.js';
import type { BreathReason } from '../../core/breath/candidates.js';

/** Who is imagined to breathe. All undefined: an adult. */
export type BreatherAsk = {
  readonly lungTime?: number;
  readonly longTone?: number;
  readonly lungClass?: 'adult' | 'teen' | 'child';
  /** Years, and centimeters. */
  readonly age?: number;
  readonly height?: number;
  readonly sex?: 'female' | 'male';
  readonly experience?: 'beginner' | 'default' | 'advanced';
};

export type ExercisePlace = { readonly chapter: number; readonly exercise: number };

export type ShowAsk = {
  /** The book as it stands in the window: checked here. */
  readonly source: unknown;
  readonly edition: number;
  readonly focus: ExercisePlace | undefined;
  /** Indices of the pages to be drawn; `focus` adds the pages of the exercise in focus. */
  readonly pages: readonly number[];
  readonly withFocus: boolean;
  /** What the window holds already: page index → stamp. A page with the same stamp is not sent again. */
  readonly have: Readonly<Record<number, string>>;
  /** The edition's own player when undefined. */
  readonly breather?: BreatherAsk | undefined;
  /** Beats a minute for the breath plan; the exercise's working tempo when undefined. */
  readonly bpm: number | undefined;
  /** As the edition says when undefined. */
  readonly manner?: 'in-time' | 'added-beat' | undefined;
  /** Someone is typing: what nobody looks at (the appendices) may wait for a question that is not hasty. */
  readonly hasty: boolean;
  /** Nothing is shown yet: the first chapter alone is set, so that its page stands there at once. */
  readonly first: boolean;
  /** The exercise in focus is told note by note too. Someone who types sees the page first and asks for this afterwards. */
  readonly tell: boolean;
};

export type PageEntry = {
  readonly label: string;
  readonly kind: string;
  readonly side: 'left' | 'right';
  readonly exercises: readonly string[];
};

export type NoteView = {
  readonly index: number;
  readonly statement: number;
  readonly degree: string;
  /** `B♭4`; empty for a rest. */
  readonly written: string;
  readonly sounding: string;
  /** MIDI key number of the written note; undefined for a rest. */
  readonly key: number | undefined;
  /** Whole notes. */
  readonly onset: number;
  readonly duration: number;
};

export type StatementView = {
  readonly index: number;
  /** Written key: `E♭`, and in words. */
  readonly key: string;
  readonly keyWords: string;
  readonly sounding: string;
  /** Place of the sounding tonic on the wheel. */
  readonly spot: number;
  readonly direction: 'up' | 'down';
  readonly pass: 1 | 2;
  /** Place of the key in the order, from 0. */
  readonly place: number;
  readonly set: number;
  readonly onset: number;
  readonly turned: boolean;
};

export type WheelKey = {
  /** Place on the wheel: fifths from C, 0 to 11. */
  readonly spot: number;
  /** Name to show and name to write into the book. */
  readonly shown: string;
  readonly written: string;
  /** Every way to write it in a book. */
  readonly names: readonly string[];
};

export type BreathView = {
  readonly afterEvent: number;
  readonly at: number;
  readonly reason: BreathReason;
  readonly seconds: number;
  readonly forced: boolean;
};

export type BreathingView = {
  readonly manner: 'in-time' | 'added-beat';
  readonly bpm: number;
  readonly beat: string;
  readonly lungWords: string;
  readonly lungSeconds: number;
  readonly breaths: readonly BreathView[];
  /** For the tempo slider: number of breaths at each rung; undefined where the air runs out. */
  readonly rungs: readonly { readonly bpm: number; readonly count: number | undefined }[];
  /** Why there is no plan. */
  readonly issue: Issue | undefined;
};

export type PitchView = { readonly name: string; readonly shown: string; readonly key: number };

export type ExerciseView = {
  readonly id: string;
  readonly number: number;
  readonly title: string;
  /** The opening of the line, engraved. */
  readonly opening: string;
  /** Words for a screen reader. */
  readonly words: string;
  readonly notes: readonly NoteView[];
  readonly statements: readonly StatementView[];
  readonly turnaround: number | undefined;
  readonly duration: number;
  readonly leftOut: readonly string[];
  readonly low: PitchView;
  readonly high: PitchView;
  readonly breathing: BreathingView | undefined;
  readonly tempo: { readonly from: number; readonly to: number; readonly beat: string } | undefined;
  /** Seconds of the line at the shown tempo, without added beats. */
  readonly seconds: number;
};

export type Shown = {
  readonly issues: readonly Issue[];
  /** Points. */
  readonly width: number;
  readonly height: number;
  readonly pages: readonly PageEntry[];
  /** Pages that were drawn, with their index. */
  readonly drawn: readonly { readonly page: number; readonly stamp: string; readonly svg: string | undefined }[];
  /** First page of each exercise, by `chapter.exercise` counted from 0. */
  readonly firstPage: Readonly<Record<string, number>>;
  /** First page of each chapter. */
  readonly chapterPage: readonly number[];
  /** Pages of the exercise in focus. */
  readonly focusPages: readonly number[];
  /** Exercises shown in their last sound form, or left out, because what is written now cannot be read. */
  readonly held: readonly string[];
  /** Undefined too when it was not to be told. */
  readonly exercise: ExerciseView | undefined;
  readonly instrument: string;
  /** Only a part of the book was set. */
  readonly partial: boolean;
};

export type FigureAsk = {
  /** A library id or degrees. */
  readonly library: string | undefined;
  readonly text: string | undefined;
  readonly clef: 'treble' | 'bass' | 'alto' | 'tenor';
};

/** The figure in C on a staff, with its degrees under the notes, and its sound: MIDI key numbers, undefined for rests. */
export type FigureView = { readonly svg: string; readonly keys: readonly (number | undefined)[]; readonly words: string };

export type PerformAsk = {
  readonly source: unknown;
  readonly edition: number;
  readonly focus: ExercisePlace;
  readonly bpm: number | undefined;
  /** The edition's own player when undefined. */
  readonly breather?: BreatherAsk | undefined;
  /** As the edition says when undefined. */
  readonly manner?: 'in-time' | 'added-beat' | undefined;
  readonly breaths: boolean;
};

export type Performance = {
  readonly exercise: string;
  readonly bpm: number;
  /** Beats a minute, at which the exercise may be tried. */
  readonly ladder: readonly number[];
  readonly notes: readonly {
    readonly event: number;
    /** Seconds. */
    readonly start: number;
    readonly length: number;
    readonly hertz: number | undefined;
  }[];
  /** Seconds; `strong` at the beginning of a bar. */
  readonly clicks: readonly { readonly at: number; readonly strong: boolean }[];
  readonly countIn: readonly { readonly at: number; readonly strong: boolean }[];
  readonly seconds: number;
  readonly issue: Issue | undefined;
};

export type FitCell = { readonly state: 'fits' | 'changed' | 'cannot'; readonly words: string; readonly sounding: string };
export type Fits = {
  readonly editions: readonly string[];
  readonly rows: readonly {
    readonly chapter: number;
    readonly exercise: number;
    readonly title: string;
    readonly cells: readonly FitCell[];
  }[];
};

export type ProofFault = {
  /** Title of the rule. */
  readonly rule: string;
  readonly what: string;
  /** Page label as printed, and its index. */
  readonly page: string | undefined;
  readonly pageIndex: number | undefined;
  readonly place: ExercisePlace | undefined;
  readonly exercise: string | undefined;
};
export type ProofView = {
  readonly pages: number;
  /** Every rule with the number of times it was applied and the faults it found. */
  readonly rules: readonly { readonly number: number; readonly title: string; readonly checked: number; readonly faults: number }[];
  readonly faults: readonly ProofFault[];
};
