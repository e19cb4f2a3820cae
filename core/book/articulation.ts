/** Articulation in words: `slur 2, tongue 2, staccato`. */

import { bad, error, good, type Result } from '../base/issue.js';
import type { Articulation } from '../exercise/exercise.js';

const MARKS = ['staccato', 'accent', 'tenuto'] as const;

/** Longest slur and longest run of tongued notes that is read. */
const MOST_NOTES = 64;

/**
 * Reads the words, parted by commas: `all slurred`, `all tongued`, or `slur n` and `tongue n` in turn, repeated to the
 * end of each statement; then, if wanted, one of the marks `staccato`, `accent`, `tenuto` for the tongued notes.
 * Empty text or `none`: nothing is marked. Issue `unknown-articulation` with the place of the word.
 */
export function parseArticulation(text: string): Result<Articulation> {
  const groups: number[] = [];
  let all = false;
  let mark: Articulation['mark'];
  let at = 0;
  const parts = text.split(',').map((part) => {
    const start = at + (part.length - part.trimStart().length);
    at += part.length + 1;
    return { words: part.trim().toLowerCase().replace(/\s+/g, ' '), span: [start, start + Math.max(1, part.trim().length)] as const };
  });
  const [only] = parts;
  if (parts.length === 1 && (only?.words === '' || only?.words === 'none')) return good({ groups: [] });

  for (const [i, { words, span }] of parts.entries()) {
    const fail = (sentence: string) => bad(error('unknown-articulation', [], sentence, span));
    const step = /^(slur|tongue) (\d{1,3})$/.exec(words);
    const found = MARKS.find((it) => it === words);
    if (found) {
      if (i !== parts.length - 1) return fail(`Write "${found}" once, at the end.`);
      mark = found;
    } else if (words === 'all slurred' || words === 'all tongued') {
      if (i !== 0 || parts.some((part) => /^(slur|tongue) /.test(part.words)))
        return fail(`Write "${words}" alone, or with a mark after it.`);
      all = words === 'all slurred';
      if (!all) groups.push(1);
    } else if (step) {
      const count = Number(step[2]);
      if (step[1] === 'slur') {
        if (count < 2 || count > MOST_NOTES) return fail(`A slur takes from 2 to ${MOST_NOTES} notes; write a number in that range.`);
        groups.push(count);
      } else {
        if (count < 1 || count > MOST_NOTES) return fail(`Write a number from 1 to ${MOST_NOTES} after "tongue".`);
        groups.push(...Array<number>(count).fill(1));
      }
    } else {
      return fail(
        `"${words}" is not an articulation; write "all slurred", "all tongued", or such words as "slur 2, tongue 2" with "staccato", "accent" or "tenuto" after them.`,
      );
    }
  }
  if (all && mark === undefined) return good({ groups: 'all' });
  if (all) return bad(error('unknown-articulation', [], 'Nothing is tongued when all is slurred; leave the mark out.', parts.at(-1)?.span));
  if (groups.length === 0) groups.push(1);
  return good(mark === undefined ? { groups } : { groups, mark });
}
