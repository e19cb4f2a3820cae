/** The file as independent programs see it. Where a program is not installed, its test is skipped and says so. */
import { beforeAll, describe, expect } from 'vitest';
import { pdfOf, run, withTool } from '../read-pdf.js';
import { sample } from '../sample.js';

let bytes: Buffer;
beforeAll(async () => {
  bytes = await pdfOf(sample);
});

describe('readers', () => {
  withTool('qpdf', 'qpdf finds no error', () => {
    const { status, out } = run('qpdf', ['--check', 'FILE'], bytes);
    expect(out).toContain('No syntax or stream encoding errors found');
    expect(status).toBe(0);
    // The broken case: a file cut short.
    expect(run('qpdf', ['--check', 'FILE'], bytes.subarray(0, -600)).status).not.toBe(0);
  });

  withTool('pdffonts', 'poppler finds all six fonts embedded, subset and readable', () => {
    const { out, err } = run('pdffonts', ['FILE'], bytes);
    const fonts = out.trim().split('\n').slice(2);
    expect(err).toBe('');
    expect(fonts).toHaveLength(6);
    for (const font of fonts) expect(font).toMatch(/^[A-Z]{6}\+\S+ +CID Type 0C +Identity-H +yes yes yes/);
  });

  withTool('pdftoppm', 'poppler paints without a complaint', () => {
    const { err, status } = run('pdftoppm', ['-r', '20', '-png', 'FILE', 'FOLDER/page'], bytes);
    expect(err).toBe('');
    expect(status).toBe(0);
  });

  withTool('pdfinfo', 'poppler finds the boxes', () => {
    const { out, err } = run('pdfinfo', ['-box', 'FILE'], bytes);
    expect(err).toBe('');
    expect(out).toMatch(/MediaBox: +0\.00 +0\.00 +494\.35 +675\.35/);
    expect(out).toMatch(/BleedBox: +22\.68 +22\.68 +471\.68 +652\.68/);
    expect(out).toMatch(/TrimBox: +31\.68 +31\.68 +462\.68 +643\.68/);
    expect(out).toMatch(/Tagged: +yes/);
  });

  withTool('pdfinfo', 'poppler reads figures and links in the structure', () => {
    const { out, err } = run('pdfinfo', ['-struct-text', 'FILE'], bytes);
    expect(err).toBe('');
    expect(out.match(/^ {2}Figure/gm)).toHaveLength(4);
    expect(out).toMatch(/TOCI\n +Link \(inline\)\n +"Exercise 4"\n +"4"\n +Object/);
  });

  withTool('mutool', 'mupdf paints without a complaint', () => {
    const { err, status } = run('mutool', ['draw', '-q', '-r', '20', '-o', 'FOLDER/page%d.png', 'FILE'], bytes);
    expect(err).not.toMatch(/error|warning: (?!ICC support is not available)/);
    expect(status).toBe(0);
  });
});
