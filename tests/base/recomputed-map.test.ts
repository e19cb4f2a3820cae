import { describe, expect, it } from 'vitest';
import { benchBook } from '../../bench/book.js';
import { recomputedMap } from '../../core/base/recomputed-map.js';
import type { EditionSpec } from '../../core/book/book.js';
import { buildEdition, realiseBook } from '../../core/build/edition.js';
import { testFonts } from '../fonts.js';

describe('a map of what can be made again', () => {
  const counting = () => {
    const made: string[] = [];
    const map = recomputedMap(
      ['a', 'b', 'c'],
      (key) => {
        made.push(key);
        return key.toUpperCase();
      },
      new Map([['a', 'A']]),
    );
    return { made, map };
  };

  it('reads like any map', () => {
    const { map } = counting();
    const plain = new Map([...'abc'].map((key) => [key, key.toUpperCase()]));
    const heard: string[] = [];
    map.forEach((value, key, whole) => {
      heard.push(`${key}${value}${whole.size}`);
    });
    expect([...map]).toEqual([...plain]);
    expect([[...map.keys()], [...map.values()], [...map.entries()]]).toEqual([
      [...plain.keys()],
      [...plain.values()],
      [...plain.entries()],
    ]);
    expect([map.size, map.has('b'), map.has('x'), map.get('x')]).toEqual([3, true, false, undefined]);
    expect(heard).toEqual(['aA3', 'bB3', 'cC3']);
  });

  it('makes what is not held, and not twice in a row', () => {
    const { made, map } = counting();
    for (const key of ['a', 'b', 'b', 'c', 'b']) map.get(key);
    expect(made).toEqual(['b', 'c', 'b']);
  });
});

describe('an edition of more exercises than are held', () => {
  it('has the lines and breaths of every exercise', () => {
    const book = benchBook(130);
    const spec = book.editions[0] as EditionSpec;
    const built = buildEdition(book, spec, testFonts());
    expect(built.ok).toBe(true);
    if (!built.ok) return;
    const { lines, player, breathing } = built.value;
    const realised = realiseBook(book, player);
    expect(lines.size).toBe(260);
    expect(realised.ok && [...realised.value].slice(250)).toEqual([...lines].slice(250));
    // The bench's exercises take turns, and lines that are alike are breathed alike, held or not.
    const marks = (id: string) => breathing?.exercises.get(id)?.marks.map(({ afterEvent }) => afterEvent);
    const alike = new Map<string, string>();
    for (const [id, line] of lines) {
      const music = JSON.stringify(line.events);
      const first = alike.get(music);
      if (first === undefined) alike.set(music, id);
      else expect(marks(id)).toEqual(marks(first));
    }
    expect(alike.size).toBeLessThan(260);
  });
});
