/** Which exercise has which key, and on what page: the grid after the contents. */
import { first } from '../../base/list.js';
import { keysAtChroma } from '../../theory/key.js';
import { chroma, classText } from '../../theory/pitch.js';
import { type EditionContent, type ExercisePlace, exerciseAnchor } from '../edition.js';
import type { ContentsGrid } from './contents-grid.js';

/** Written tonics along the circle of fourths from C, spelled as the player's lines spell them. */
export function keyGrid(content: EditionContent, places: readonly ExercisePlace[]): ContentsGrid {
  const chromas = Array.from({ length: 12 }, (_, i) => (5 * i) % 12);
  const names = new Map<number, string>();
  const rows = places.map(({ id, number, title, page }) => {
    const has = new Set<number>();
    for (const { writtenKey } of content.lines.get(id)?.statements ?? []) {
      const at = chroma(writtenKey.tonic);
      has.add(at);
      if (!names.has(at)) names.set(at, classText(writtenKey.tonic));
    }
    const cell = { page: `${page + 1}`, anchor: exerciseAnchor(id) };
    return { number, title, cells: chromas.map((at) => (has.has(at) ? cell : undefined)) };
  });
  return { keys: chromas.map((at) => names.get(at) ?? classText(first(keysAtChroma(at, 'major')).tonic)), rows };
}
