/** The proof of an ensemble's parts, together: what they share is judged in all of them at once. */

import { assert } from '../base/issue.js';
import type { Book } from '../book/book.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import { chairSpec, copiesOf, ensembleExercises } from '../ensemble/ensemble-book.js';
import { partLine } from '../ensemble/part-lines.js';
import type { Document } from '../layout/page/page.js';
import type { Line } from '../player/line.js';
import { type Proof, proveEnsemble } from '../proof/proof.js';
import type { ProvedEdition } from '../proof/proved-edition.js';
import { type ExerciseLayout, layoutOfCopy } from './parts.js';

/** The parts as they are proved; `documents` are those of the copies, in their order. */
export function provedParts(
  book: Book,
  ensemble: Ensemble,
  layouts: readonly ExerciseLayout[],
  documents: readonly Document[],
): ProvedEdition[] {
  const exercises = ensembleExercises(book, ensemble);
  return copiesOf(ensemble).map((copy, index) => {
    const chair = ensemble.chairs[copy.chair] as Chair;
    const own = layoutOfCopy(layouts, index);
    const lines = own.map(({ id, plan }): [string, Line] => {
      const one = exercises.find(({ exercise }) => exercise.id === id);
      const part = plan.parts[copy.chair];
      assert(one && part, 'every layout is of an exercise and a chair of the ensemble');
      const line = partLine(one.exercise, chair.player, plan, part);
      assert(line.ok, 'a part that is laid out has its line');
      return [id, line.value];
    });
    const breathed = own.flatMap(({ id, copy: { breathing } }) => (breathing ? [{ id, ...breathing }] : []));
    const exercisesBreathed = breathed.map(({ id, marks, lung, tempo }) => {
      return [id, { marks, plan: { tempo, lung, manner: 'in-time', breaths: marks } }] as const;
    });
    const [first] = breathed;
    const document = documents[index];
    assert(document, 'every copy has its document');
    return {
      part: copy.name,
      spec: chairSpec(book, chair),
      player: chair.player,
      document,
      lines: new Map(lines),
      breathing: first && { lung: first.lung, exercises: new Map(exercisesBreathed) },
    };
  });
}

/** By copy. */
export const proveParts = (
  book: Book,
  ensemble: Ensemble,
  layouts: readonly ExerciseLayout[],
  documents: readonly Document[],
  fonts: Fonts,
): Proof[] => proveEnsemble(provedParts(book, ensemble, layouts, documents), book, fonts);
