/** Where systems and pages begin in a finished document, for formats that can say so. */
import type { Document } from '../layout/page/page.js';
import type { NotatedExercise } from './notated-exercise.js';

export type Breaks = Required<Pick<NotatedExercise, 'systems' | 'pages'>>;

/** First bars of the systems of each exercise, by its id, and those of them that open a page. */
export function breaksOf(document: Pick<Document, 'pages'>): ReadonlyMap<string, Breaks> {
  const found = new Map<string, { systems: number[]; pages: number[] }>();
  for (const { items } of document.pages) {
    let first = true;
    for (const item of items) {
      if (item.kind !== 'drawing' || item.exercise === undefined || item.system === undefined) continue;
      const bar = item.draw().marks.find((mark) => mark.role === 'clef')?.owner.bar;
      if (bar === undefined) continue;
      const own = found.get(item.exercise) ?? { systems: [], pages: [] };
      own.systems.push(bar);
      if (first) own.pages.push(bar);
      first = false;
      found.set(item.exercise, own);
    }
  }
  return found;
}
