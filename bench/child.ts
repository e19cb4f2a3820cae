/**
 * One book of so many pages in a process of its own, written to a file that is thrown away. Prints JSON: CPU in ms, pages,
 * notes, bytes, peak memory in MB. `node dist/bench/child.js 500 cold`; `warm` first builds a smaller book that is not counted.
 */
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { growGently, optimiseLater } from '../core/cli/gentle-heap.js';
import { benchBook } from './book.js';
import { build, notesOf, openAllFonts, paint } from './own.js';
import { cpuNow } from './timing.js';

const [pages = '50', manner = 'cold'] = process.argv.slice(2);
// As the command line does.
growGently();
optimiseLater();
const folder = mkdtempSync(join(tmpdir(), 'twelvefold-bench-'));
const file = openSync(join(folder, 'book.pdf'), 'w');

try {
  const fonts = openAllFonts();
  if (manner === 'warm') for (let i = 0; i < 4; i++) await paint(build(benchBook(40), fonts).document, fonts);
  const book = benchBook(Number(pages));
  const start = cpuNow();
  const { document, lines } = build(book, fonts);
  const bytes = await paint(document, fonts, (chunk) => writeSync(file, chunk));
  const cpu = cpuNow() - start;
  const result = { pages: document.pages.length, notes: notesOf(lines.values()), cpu, bytes, peak: process.resourceUsage().maxRSS / 1024 };
  process.stdout.write(`${JSON.stringify(result)}\n`);
} finally {
  closeSync(file);
  rmSync(folder, { recursive: true });
}
