/** What is proved: an edition as built, and what is known of its breaths. */

import type { EditionSpec } from '../book/book.js';
import type { BreathMark, Ladder } from '../breath/ladder.js';
import type { LungTime } from '../breath/lung-time.js';
import type { BreathPlan } from '../breath/plan.js';
import type { Document } from '../layout/page/page.js';
import type { Line } from '../player/line.js';
import type { Player } from '../player/player.js';

/** Breaths at one tempo, and the lungs they serve. */
export type ProvedPlan = Pick<BreathPlan, 'tempo' | 'lung' | 'manner' | 'breaths'>;

export type ProvedEdition = {
  readonly spec: EditionSpec;
  readonly player: Player;
  readonly document: Document;
  /** By exercise id. */
  readonly lines: ReadonlyMap<string, Line>;
  /** Of a part of an ensemble or a booklet: the name that stands where an edition names its instrument. Its numbers are the book's. */
  readonly part?: string;
  /** By exercise id: keys of its order that were not wanted. */
  readonly unwanted?: ReadonlyMap<string, number>;
  readonly breathing?:
    | {
        readonly lung: LungTime;
        /** By exercise id. Without a ladder or a plan only the printed marks are proved, not the air between them. */
        readonly exercises: ReadonlyMap<
          string,
          { readonly marks: readonly BreathMark[]; readonly ladder?: Ladder; readonly plan?: ProvedPlan }
        >;
      }
    | undefined;
};

/** What a printed breath is known to be needed for. */
export type Breathing = {
  readonly marks: readonly BreathMark[];
  /** Lungs that serve where there is no plan. */
  readonly lung: LungTime;
  /** From slow to fast; empty where only the printed marks are known. */
  readonly plans: readonly ProvedPlan[];
};

/** Of one exercise; undefined where the edition prints no breaths for it. */
export function breathingOf({ breathing }: ProvedEdition, exercise: string): Breathing | undefined {
  const own = breathing?.exercises.get(exercise);
  if (!breathing || !own) return undefined;
  const plans = own.plan ? [own.plan] : (own.ladder?.rungs.flatMap(({ plan }) => plan ?? []) ?? []);
  return { marks: own.marks, lung: breathing.lung, plans };
}
