import { describe, expect, it } from 'vitest';
import type { TextRun } from '../../../core/layout/page/page.js';
import { spaceBetween } from '../../../core/output/pdf/text.js';

describe('a space between two runs of one element', () => {
  const run = (text: string, x: number, width: number, y = 100, font: TextRun['font'] = 'bold'): TextRun => {
    return { font, size: 10, x, y, text, width };
  };
  it.each([
    ['a number and its title', run('1', 50, 6), run('Long notes', 70, 60), 'bold 56'],
    ['two lines', run('Chapter 1', 50, 60), run('Home', 50, 30, 130), 'bold 110'],
    ['a flat at the end of a line', run('♭', 50, 6, 100, 'music'), run('and F', 40, 30, 112), 'roman 56'],
    ['parts of one word', run('be', 50, 12), run('gin', 62, 20), undefined],
    ['a letter and its flat, raised', run('B', 50, 6), run('♭', 56.3, 3, 98.3, 'music'), undefined],
    ['words with a space already', run('two ', 50, 20), run('words', 73, 30), undefined],
    ['words with the space in the second', run('two', 50, 17), run(' words', 70, 30), undefined],
    ['a word divided at the end of a line', run('be-', 50, 15), run('gin', 40, 20, 112), undefined],
  ])('of %s', (_, before, after, expected) => {
    const space = spaceBetween(before, after);
    expect(space && `${space.font} ${space.x}`).toBe(expected);
  });
});
