import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { blocksOf, curved } from '../../core/layout/text/markdown.js';
import { type Column, flowProse, type ProseBlock, proseHeight, setProse } from '../../core/layout/text/prose.js';
import { linesIn, runsIn, settingOf } from './setting.js';

const { fonts, styles } = settingOf();
const set = (markdown: string, width = 340): ProseBlock[] => setProse(markdown, { width, fonts, styles, language: 'en-US', id: 't' });
const placed = (markdown: string) => {
  let y = 0;
  return set(markdown).flatMap((block) => {
    const items = block.place(0, y);
    y += block.height + block.after;
    return items;
  });
};

describe('blocks', () => {
  const kinds = (markdown: string) =>
    blocksOf(markdown)
      .map((b) => b.kind)
      .join(' ');
  test.each([
    ['one\n\ntwo', 'paragraph paragraph'],
    ['# Title\ntext', 'heading paragraph'],
    ['- a\n- b', 'list'],
    ['> said', 'quote'],
    ['```figure\n1 2 3 5\n```', 'figure'],
    ['```\ncode\nlines\n```', 'paragraph paragraph'],
    ['---', 'rule'],
    ['', ''],
    ['<div>\nhello\n</div>', 'paragraph'],
    ['[a]: https://example.org', 'paragraph'],
  ])('%j', (markdown, expected) => expect(kinds(markdown)).toBe(expected));

  test('a plain line is what the parser makes of it', () => {
    const piece = fc.constantFrom(
      ...[
        'Even',
        ' fingers',
        ',  one',
        ' sound.',
        ' (soft)',
        ' "so"',
        " don't",
        '1',
        '. ',
        '- ',
        '#',
        '!',
        '[a]',
        '*',
        '_x_',
        '`',
        '~',
        '=',
        ':',
        '|',
      ],
      ...['♩ = 60', ' & ', '&amp;', '<b>', '>', '\\', '\t', 'http://a.b', '@', '+', '^', '$', '\u00a0', '\u2028', '\u0000'],
    );
    // A line end makes no difference to a paragraph, and sends the text to the parser.
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
        const text = pieces.join('');
        expect(blocksOf(text)).toEqual(blocksOf(`${text}\n`));
      }),
      { numRuns: 3000 },
    );
  });

  test.each([
    [`"Don't," she said`, '“Don’t,” she said'],
    [`('a' or "b")`, '(‘a’ or “b”)'],
    ['5"', '5”'],
  ])('quotation marks of %s', (text, expected) => expect(curved(text)).toBe(expected));
});

describe('what is set', () => {
  const fontsOf = (markdown: string) =>
    runsIn(placed(markdown))
      .map((r) => `${r.font}:${r.text.trim()}`)
      .join(' ');
  test.each([
    ['plain *soft* **loud** ***both***', 'roman:plain italic:soft bold:loud bold-italic:both'],
    ['the figure `1 b3`', 'roman:the roman:figure roman:1 music:♭ roman:3'],
    ['from `Bb`', 'roman:from roman:B music:♭'],
    ['# Head *note*', 'bold:Head bold-italic:note'],
  ])('%s', (markdown, expected) => expect(fontsOf(markdown)).toBe(expected));

  test('lists have their marks in front of the text', () => {
    expect(linesIn(placed('1. one\n2. two\n   - inner\n\n- dot'))).toEqual(['1. one', '2. two', '• inner', '• dot']);
    const runs = runsIn(placed('8. a\n9. b\n10. c'));
    const ends = runs.filter((r) => /^\d+\. $/.test(r.text)).map((r) => r.x + r.width);
    expect(Math.max(...ends) - Math.min(...ends)).toBeLessThan(1e-6);
  });

  test.each([
    ['<script>alert(1)</script>', '<script>alert(1)</script>'],
    ['see <b onclick="x">this</b>', 'see <b onclick="x">this</b>'],
    ['![a staff](javascript:x)', 'a staff'],
    ['[words](https://example.org)', 'words (https://example.org)'],
    ['<https://example.org>', 'https://example.org'],
    ['&lt;i&gt;', '<i>'],
  ])('%s is inert', (markdown, expected) => {
    const items = placed(markdown);
    expect(linesIn(items).join(' ')).toBe(expected);
    expect(items.every((item) => item.kind === 'text')).toBe(true);
  });

  test('every element of the text has one id', () => {
    const ids = set('# H\n\na\n\n- b\n- c').map((b) => (b.tag.kind === 'element' ? `${b.tag.type} ${b.tag.id}` : ''));
    expect(ids).toEqual(['H2 t-1', 'P t-2', 'LI t-3', 'LI t-4']);
  });
});

/** Blocks of the given numbers of lines; `h` before a number makes a heading. */
function stub(pattern: string): ProseBlock[] {
  return pattern.split(' ').map((word) => {
    const [block] = set('x');
    const lines = Array.from({ length: Number(word.replace('h', '')) }, () => block!.lines[0]!);
    const height = lines.length * 10;
    return {
      ...block!,
      lines,
      leading: 10,
      before: 0,
      after: 0,
      height,
      keepWithNext: word.startsWith('h'),
      place: (x, y, from = 0, to = lines.length) => lines.slice(from, to).map(() => block!.place(x, y)[0]!),
    };
  });
}

describe('flow over columns', () => {
  const columnOf =
    (lines: number) =>
    (index: number): Column => ({ x: index * 100, top: 0, bottom: lines * 10 });
  test.each([
    ['3 3', 6, '6'],
    ['3 3', 4, '3 3'],
    // A single line would be left behind or carried over.
    ['4 4', 5, '4 4'],
    ['4 4', 6, '6 2'],
    ['5', 4, '3 2'],
    ['3', 2, '2 1'],
    ['12', 5, '5 5 2'],
    ['2 h1 4', 4, '2 3 2'],
    ['2 h1 4', 5, '5 2'],
    ['1 1 1', 2, '2 1'],
  ])('%s in columns of %i lines: %s', (pattern, lines, expected) => {
    expect(
      flowProse(stub(pattern), columnOf(lines))
        .columns.map((c) => c.length)
        .join(' '),
    ).toBe(expected);
  });
  test('ends below the last line', () => expect(flowProse(stub('3 2'), columnOf(9)).end).toBe(50));
  test('height is that of the blocks set under one another', () => {
    const blocks = set('one\n\ntwo');
    expect(proseHeight(blocks)).toBeCloseTo(blocks[0]!.height + styles.body.after + blocks[1]!.height, 9);
    expect(proseHeight([])).toBe(0);
  });
});
