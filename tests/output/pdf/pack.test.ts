/** Object streams and the cross-reference stream: what other readers make of them, and how small the file is. */
import type { PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { opened, pdfOf, run, withTool } from '../read-pdf.js';
import { realEdition } from '../real-edition.js';

const { document } = realEdition('small-wheels', 'trombone');
let packed: Buffer;
let plain: Buffer;
beforeAll(async () => {
  packed = await pdfOf(document);
  plain = await pdfOf(document, { compress: false });
});

/** Bytes of the embedded fonts. */
function fontBytes(file: Buffer): number {
  const lengths = [
    ...file.toString('latin1').matchAll(/\/Length (\d+)\n\/Subtype \/CIDFontType0C|\/Subtype \/CIDFontType0C\n\/Length (\d+)/g),
  ];
  expect(lengths.length).toBeGreaterThan(2);
  return lengths.reduce((sum, [, before, after]) => sum + Number(before ?? after), 0);
}

/** Bookmarks and named destinations, with the numbers of their pages; the objects have other numbers in each file. */
async function places(pdf: PDFDocumentProxy): Promise<unknown[]> {
  const page = async ([ref, ...more]: unknown[]): Promise<unknown[]> => [
    await pdf.getPageIndex(ref as { num: number; gen: number }),
    ...more,
  ];
  const marks = (await pdf.getOutline()).flatMap((entry) => [entry, ...entry.items]);
  const named = Object.entries((await pdf.getDestinations()) as Record<string, unknown[]>);
  return [
    ...(await Promise.all(marks.map(async ({ title, dest }) => [title, await page(dest as unknown[])]))),
    ...(await Promise.all(named.map(async ([name, dest]) => [name, await page(dest)]))),
  ];
}

/** Structure, links and words of a page, without the numbers of objects. */
async function contents(pdf: PDFDocumentProxy, number: number): Promise<unknown> {
  const page = await pdf.getPage(number);
  const structure = JSON.stringify(await page.getStructTree()).replaceAll(/p\d+R_/g, '');
  const links = (await page.getAnnotations()).map(({ dest, rect }) => [dest, rect]);
  const words = ((await page.getTextContent()).items as { str: string; transform: number[] }[]).map(({ str, transform }) => [
    str,
    transform,
  ]);
  return { structure: structure.replaceAll(/annotation[^"]*/g, ''), links, words };
}

describe('a packed file', () => {
  it('keeps its small objects in streams, and the list of all objects too', () => {
    const text = packed.toString('latin1');
    expect(text).toMatch(/\/Type \/ObjStm/);
    expect(text).toMatch(/\/Type \/XRef/);
    expect(text).not.toMatch(/\/Type \/Page\n/);
    expect(text).not.toMatch(/^xref$/m);
    // Plain streams are for reading: their objects stand open as well.
    expect(plain.toString('latin1')).not.toMatch(/ObjStm|XRef/);
  });

  it('says the same as the plain file, as pdf.js reads both', async () => {
    const [one, other] = await Promise.all([opened(packed), opened(plain)]);
    expect(one.numPages).toBe(document.pages.length);
    expect(await places(one)).toEqual(await places(other));
    expect(await one.getPageLabels()).toEqual(await other.getPageLabels());
    for (let number = 1; number <= one.numPages; number++) expect(await contents(one, number)).toEqual(await contents(other, number));
  });

  // Six kilobytes a page are ample for a page of 192 notes.
  it('takes 6 kB a page at most beyond its fonts', () => {
    const beyond = (file: Buffer): number => (file.length - fontBytes(file)) / document.pages.length;
    expect(beyond(packed)).toBeLessThan(6 * 1024);
    expect(beyond(plain)).toBeGreaterThan(6 * 1024);
  });

  withTool('qpdf', 'is sound, and unsound with one object moved, as qpdf finds', () => {
    const { status, out } = run('qpdf', ['--check', 'FILE'], packed);
    expect(out).toContain('No syntax or stream encoding errors found');
    expect(status).toBe(0);
    const at = packed.lastIndexOf('startxref\n') + 'startxref\n'.length;
    const wrong = Buffer.from(packed);
    wrong.write(wrong.toString('latin1', at, at + 1) === '9' ? '8' : '9', at, 'latin1');
    expect(run('qpdf', ['--check', 'FILE'], wrong).status).not.toBe(0);
  });
});
