/** Reads back what the PDF painter wrote: with pdf.js, and with the command-line readers a machine may have. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getDocument, type PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { it } from 'vitest';
import type { Document } from '../../core/layout/page/page.js';
import { type PdfOptions, writePdf } from '../../core/output/pdf/pdf.js';
import { testFonts } from '../fonts.js';

export async function pdfOf(document: Document, options: PdfOptions = {}): Promise<Buffer> {
  const chunks: Uint8Array[] = [];
  await writePdf(document, testFonts(), (chunk) => void chunks.push(chunk), options);
  return Buffer.concat(chunks);
}

export async function opened(bytes: Uint8Array): Promise<PDFDocumentProxy> {
  // pdf.js takes the buffer for itself, so it gets a copy.
  return await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
}

export function hasTool(name: string): boolean {
  return spawnSync(name, ['--version']).error === undefined;
}

/** A test that needs a command; skipped where it is not installed, and its title then says so. */
export function withTool(name: string, title: string, test: () => void | Promise<void>): void {
  const there = hasTool(name);
  it.skipIf(!there)(there ? title : `${title} (skipped: ${name} is not installed)`, test);
}

/** Runs a reader on the bytes; `FILE` among the arguments stands for them, `FOLDER` for a folder that is removed afterwards. */
export function run(tool: string, args: readonly string[], bytes: Uint8Array): { status: number | null; out: string; err: string } {
  const folder = mkdtempSync(join(tmpdir(), 'twelvefold-pdf-'));
  try {
    const file = join(folder, 'sample.pdf');
    writeFileSync(file, bytes);
    const filled = args.map((arg) => arg.replace('FILE', file).replace('FOLDER', folder));
    const { status, stdout, stderr } = spawnSync(tool, filled, { encoding: 'utf8', maxBuffer: 1 << 26 });
    return { status, out: stdout, err: stderr };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Every page's operators, one after another, from a file written with `compress: false`. */
export function operators(bytes: Buffer): string {
  const text = bytes.toString('latin1');
  return [...text.matchAll(/<<\n\/Length \d+\n>>\nstream\n([\s\S]*?)\nendstream/g)].map((found) => found[1]).join('\n');
}
