/** Words divided at the ends of lines are whole again for whoever reads the file (ISO 32000-1, 14.8.2.2.3). */
import { beforeAll, describe, expect, it } from 'vitest';
import { built } from '../../proof/edition.js';
import { opened, pdfOf, run, withTool } from '../read-pdf.js';

const WORDS =
  'Extraordinarily characteristic considerations notwithstanding, accompanying instrumentalists internationally demonstrate incomprehensible interpretations. Representative instrumentalists undoubtedly rediscover multidimensional communication, well-known and self-evident, unquestionably revolutionizing conventional understanding.';

let bytes: Buffer;
let divided: string[];
beforeAll(async () => {
  const { document } = built({ figure: '1 2 3 5' }, 'flute', { preface: WORDS }).edition;
  divided = document.pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' && item.run.divided ? item.run.text : [])));
  bytes = await pdfOf(document);
});

const letters = (text: string): string => text.replace(/\s+/g, '');

describe('a divided word', () => {
  it('is there, and shows its hyphen', () => {
    expect(divided.length).toBeGreaterThan(1);
    for (const text of divided) expect(text).toMatch(/\p{L}-$/u);
  });

  it('is whole in pdf.js, and a hyphen of its own stays', async () => {
    const pdf = await opened(bytes);
    const pages = await Promise.all(Array.from({ length: pdf.numPages }, (_, i) => pdf.getPage(i + 1)));
    const texts = await Promise.all(
      pages.map(async (page) => (await page.getTextContent()).items.map((item) => ('str' in item ? item.str : '')).join('')),
    );
    expect(texts.map(letters).join(' ')).toContain(letters(WORDS));
  });

  withTool('pdftotext', 'has a soft hyphen in poppler, which joins it again', () => {
    const { out } = run('pdftotext', ['-enc', 'UTF-8', 'FILE', '-'], bytes);
    expect(out).toContain('\u00ad\n');
    expect(letters(out.replaceAll('\u00ad\n', ''))).toContain(letters(WORDS));
  });
});
