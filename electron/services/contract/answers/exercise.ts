/** What the job shows of a book: pages, lines, breaths and faults as plain data, with every musical word already found. */

import type { Issue } from '../../../../core/base/issue.js';
import type { BreathReason } from '../../../../core/breath/candidates.js';
import type { PitchView } from './lists.js';

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
