/** The breaths of one copy as its pages print them and as they are proved. */

import { ensembleBreathingPage } from '../breath/page.js';
import type { BreathPlan } from '../breath/plan.js';
import type { PrintedBreaths, ReaderBreaths } from '../breath/policy.js';
import { partWords } from '../breath/words.js';
import type { CopyBreathing } from '../ensemble/copy-breathing.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import type { Copy } from '../ensemble/ensemble-book.js';

/** `plan` is what the marks were computed for. */
type PartBreaths = PrintedBreaths & { readonly plan: Pick<BreathPlan, 'tempo' | 'lung' | 'manner' | 'breaths'> };

export type PartBreathing = ReaderBreaths<PartBreaths>;

/** Of a copy's exercises, by their ids; undefined where nobody breathes by a plan. */
export function partBreathing(
  ensemble: Ensemble,
  copy: Copy,
  exercises: readonly { readonly id: string; readonly breathing: CopyBreathing | undefined }[],
): PartBreathing | undefined {
  const { plan } = ensemble.breathing;
  const breathed = exercises.flatMap(({ id, breathing }) => (breathing ? [{ id, breathing }] : []));
  const [first] = breathed;
  if (!first || plan === 'none') return undefined;
  const printed = breathed.map(({ id, breathing }): [string, PartBreaths] => {
    const { marks, lung, tempo } = breathing;
    return [
      id,
      { marks, words: partWords(tempo, marks.length, plan, copy.player), plan: { tempo, lung, manner: 'in-time', breaths: marks } },
    ];
  });
  const { lung } = first.breathing;
  const text = ensembleBreathingPage(plan, lung.words);
  return { lung, manner: 'in-time', added: undefined, ladders: true, exercises: new Map(printed), text };
}
