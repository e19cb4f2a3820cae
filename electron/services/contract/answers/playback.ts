/** One exercise as it sounds. */
import type { Issue } from '../../../../core/base/issue.js';

export type Playback = {
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
