/** How every exercise of the book fits every instrument of its editions. */
import { bad, good, type Result } from '../../../core/base/issue.js';
import type { Workshop } from '../../../core/build/workshop.js';
import { keyText } from '../../../core/theory/key.js';
import type { FitCell, Fits } from '../contract/answers/fits.js';

export function fits(source: unknown, shop: Workshop): Result<Fits> {
  const read = shop.read(source);
  const { book } = read;
  if (!book) return bad(...read.issues);
  const players = book.editions.map((_, i) => shop.build(read, i));
  const editions = players.map((player, i) => (player.ok ? player.value.player.instrument.name : (book.editions[i]?.instrument ?? '')));
  const rows = [...read.places].map(([id, place]) => {
    const exercise = book.chapters.flatMap((chapter) => chapter.exercises).find((it) => it.id === id);
    const cells = players.map((player): FitCell => {
      if (!player.ok || !exercise) return { state: 'cannot', words: player.ok ? '' : (player.issues[0]?.message ?? ''), sounding: '' };
      const line = shop.line(exercise, player.value.player);
      const words = line.issues.map((issue) => issue.message).join(' ');
      if (!line.ok) return { state: 'cannot', words, sounding: '' };
      const first = line.value.statements[0];
      return { state: line.issues.length > 0 ? 'changed' : 'fits', words, sounding: first ? keyText(first.soundingKey) : '' };
    });
    return { ...place, title: exercise?.title ?? '', cells };
  });
  return good({ editions, rows });
}
