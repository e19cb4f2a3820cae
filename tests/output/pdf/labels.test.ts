import { expect, it } from 'vitest';
import { labelRanges } from '../../../core/output/pdf/page-labels.js';

/** Pages as `iv` (Roman) or `12` (Arabic); a letter and a colon in front force the numbering. */
function ranges(labels: string): string {
  const pages = labels.split(' ').map((word) => {
    const [, forced, label] = /^(?:([ra]):)?(.*)$/.exec(word)!;
    return { label: label!, numbering: forced === 'r' || (!forced && /^[a-z]+$/i.test(label!)) ? ('roman' as const) : ('arabic' as const) };
  });
  return labelRanges(pages)
    .map(([index, { S, St, P }]) => `${index}:${S ?? ''}${St ?? ''}${P === undefined ? '' : `"${P}"`}`)
    .join(' ');
}

it.each([
  ['i ii iii 1 2 3 4', '0:r1 3:D1'],
  ['i ii iii iv v 6 7', '0:r1 5:D6'],
  ['1 2 5 6', '0:D1 2:D5'],
  ['xxxviii xxxix xl xli xc cd mcmxcix', '0:r38 4:r90 5:r400 6:r1999'],
  ['I II', '0:R1'],
  // No number: only a prefix, and the count starts anew behind it.
  ['a:Cover 1 2', '0:"Cover" 1:D1'],
  ['a: 1', '0: 1:D1'],
  // Badly formed numerals are no numbers.
  ['iiii ic vx ivi iv', '0:"iiii" 1:"ic" 2:"vx" 3:"ivi" 4:r4'],
  ['a:iv a:007', '0:"iv" 1:"007"'],
  ['r:4', '0:"4"'],
])('%s is %s', (labels, expected) => {
  expect(ranges(labels)).toBe(expected);
});
