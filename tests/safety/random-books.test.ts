/** Random valid books: none crashes the program, and what must hold of every line holds. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { realiseBook } from '../../core/build/edition.js';
import { playerOf } from '../../core/player/compass.js';
import type { Line } from '../../core/player/line.js';
import { book, bookText } from '../proof/random-book.js';
import { airLasts, Broken, eachKeyBothWays, exactBars, holds, insideCompass, pagesOf, pdfDigest, type Verdict } from './invariants.js';

const BOOKS = 300;
const wishes = fc.sample(fc.tuple(book, fc.constantFrom('in time', 'added beat')), { numRuns: BOOKS, seed: 4711 });
const texts = wishes.map(([wish, manner]) => bookText(wish, { breath: { manner } }));

describe(`${BOOKS} random books`, () => {
  const verdicts: Verdict[] = [];

  it('keep every key, the compass, the bars and the air', () => {
    let plans = 0;
    for (const text of texts) {
      const verdict = holds(text);
      if (!verdict) continue;
      verdicts.push(verdict);
      plans += verdict.plans;
    }
    // Most can be played, and many have a tempo to breathe at, or the test would prove nothing.
    expect(verdicts.length).toBeGreaterThan(BOOKS / 2);
    expect(plans).toBeGreaterThan(BOOKS);
  });

  it('have pages, and the same bytes twice', async () => {
    let pages = 0;
    for (const verdict of verdicts.filter((_, i) => i % 12 === 0)) {
      const [first, second] = [pagesOf(verdict), pagesOf(verdict)];
      pages += first?.document.pages.length ?? 0;
      if (first && second) expect(await pdfDigest(first)).toBe(await pdfDigest(second));
    }
    expect(pages).toBeGreaterThan(20);
  });
});

describe('a spoiled line is seen', () => {
  const line = (): Line => {
    const text = bookText(
      { exercises: [{ figure: '1 2 3 5', passes: 2, tempo: { from: 60 } }], instrument: 'flute', level: 'advanced', page: 'a4' },
      {},
    );
    const verdict = holds(text);
    const player = verdict && playerOf(verdict.spec);
    const lines = player?.ok ? realiseBook((verdict as Verdict).book, player.value) : undefined;
    if (!lines?.ok) throw new Error('the good line cannot be made');
    return [...lines.value.values()][0] as Line;
  };
  const good = line();
  const event = (change: (one: Line['events'][number]) => object): Line =>
    ({ ...good, events: good.events.map((one, i) => (i === 3 ? { ...one, ...change(one) } : one)) }) as Line;

  it.each<[name: string, check: (line: Line) => void, spoiled: Line]>([
    ['a key left away', eachKeyBothWays, { ...good, statements: good.statements.slice(1) }],
    ['a key twice the same way', eachKeyBothWays, { ...good, statements: good.statements.map((one) => ({ ...one, direction: 'up' })) }],
    [
      'keys at wrong distances',
      eachKeyBothWays,
      {
        ...good,
        statements: good.statements.map((one, i) => (i === 2 ? { ...one, key: { ...one.key, chroma: one.key.chroma + 1 } } : one)),
      },
    ],
    ['a note too high', insideCompass, event(() => ({ written: { letter: 0, alter: 0, octave: 9 } }))],
    ['a note that sounds elsewhere', insideCompass, event(() => ({ sounding: { letter: 0, alter: 0, octave: 4 } }))],
    ['a note too long', exactBars, event(() => ({ duration: { n: 3, d: 8 } }))],
    ['a note too late', exactBars, event(({ onset }) => ({ onset: { n: onset.n + 1, d: onset.d } }))],
  ])('%s', (_, check, spoiled) => {
    expect(() => check(good)).not.toThrow();
    expect(() => check(spoiled)).toThrow(Broken);
  });

  it('too little air', () => {
    const plan = (lung: number) =>
      ({ tempo: { beat: { n: 1, d: 4 }, bpm: 60 }, lung: { seconds: lung }, manner: 'in-time', breaths: [] }) as never;
    expect(() => airLasts(good, plan(100))).not.toThrow();
    expect(() => airLasts(good, plan(10))).toThrow(Broken);
  });
});
