/** Rule 25 on the file itself, as other programs read it. Where a program is not installed, its test is skipped and says so. */
import { beforeAll, describe, expect, it } from 'vitest';
import { mmToPt } from '../../core/base/units.js';
import { pdfOf, run, withTool } from '../output/read-pdf.js';
import { type Built, built, damaged, each } from './edition.js';

const book = (): Built =>
  built(
    { figure: '1 2 b3 5', title: 'Four in a Row', order: ['C', 'F', 'Bb'], rhythm: 'quarters', tempo: { from: 60, to: 90 } },
    'clarinet-in-bb',
    {
      house: { page: 'a4' },
    },
  );

let bytes: Buffer;
beforeAll(async () => {
  bytes = await pdfOf(book().edition.document);
});

describe('the printed file', () => {
  it('is the same, byte for byte, from a second build', async () => {
    expect((await pdfOf(book().edition.document)).equals(bytes)).toBe(true);
    const other = damaged(
      book(),
      each(
        (m) => m.role === 'barline',
        () => undefined,
      ),
    );
    expect((await pdfOf(other.edition.document)).equals(bytes)).toBe(false);
  });

  withTool('qpdf', 'has no error that qpdf finds', () => {
    const { status, out } = run('qpdf', ['--check', 'FILE'], bytes);
    expect(out).toContain('No syntax or stream encoding errors found');
    expect(status).toBe(0);
  });

  withTool('pdffonts', 'has every font embedded as a subset that can be read', () => {
    const fonts = run('pdffonts', ['FILE'], bytes).out.trim().split('\n').slice(2);
    expect(fonts.length).toBeGreaterThan(2);
    for (const font of fonts) expect(font).toMatch(/^[A-Z]{6}\+\S+ +CID Type 0C +Identity-H +yes yes yes/);
  });

  withTool('pdfinfo', 'has pages of the size asked for', () => {
    const { out } = run('pdfinfo', ['-box', 'FILE'], bytes);
    const box = /TrimBox: +(\S+) +(\S+) +(\S+) +(\S+)/.exec(out)?.slice(1).map(Number) ?? [];
    expect(box).toHaveLength(4);
    expect(box[2]! - box[0]!).toBeCloseTo(mmToPt(210) as number, 1);
    expect(box[3]! - box[1]!).toBeCloseTo(mmToPt(297) as number, 1);
  });

  withTool('pdftotext', 'gives its titles to a reader', () => {
    const { out } = run('pdftotext', ['FILE', '-'], bytes);
    expect(out).toContain('Four in a Row');
    expect(out).toContain('A Book to Prove');
  });

  withTool('qpdf', 'is painted in black of one ink', () => {
    const { out } = run('qpdf', ['--qdf', '--object-streams=disable', 'FILE', '-'], bytes);
    const streams = out.match(/stream\n[\s\S]*?endstream/g)?.join('\n') ?? '';
    expect(streams.length).toBeGreaterThan(1000);
    // Operators that set a colour of more than one ink.
    expect(streams).not.toMatch(/^[\d. ]+ (rg|RG|k|K|scn|SCN)$/m);
  });
});
