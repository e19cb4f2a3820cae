import { readFileSync, writeFileSync } from 'node:fs';
import { buildEdition } from '../core/build.js';
import { openFonts } from '../core/engrave/metrics.js';
import { fontFiles } from '../core/fonts-on-disk.js';
import { writePdf } from '../core/output/pdf.js';
import { benchBook } from './book.js';
const n = Number(process.argv[2] ?? 50);
const fonts = openFonts(fontFiles((p) => readFileSync(p)));
async function run(pages: number, save?: string) {
  const c0 = process.cpuUsage();
  const book = benchBook(pages);
  const c1 = process.cpuUsage(c0);
  const built = buildEdition(book, book.editions[0]!, fonts);
  if (!built.ok) throw new Error(JSON.stringify(built.issues.slice(0, 3)));
  const c2 = process.cpuUsage(c0);
  const chunks: Uint8Array[] = [];
  await writePdf(built.value.document, fonts, (c) => void chunks.push(c));
  const c3 = process.cpuUsage(c0);
  const notes = [...built.value.lines.values()].reduce((s, l) => s + l.events.filter((e) => e.kind === 'note').length, 0);
  const bytes = chunks.reduce((s, c) => s + c.length, 0);
  const ms = (c: NodeJS.CpuUsage) => (c.user + c.system) / 1000;
  const P = built.value.document.pages.length;
  console.log(pages, 'pages', P, 'notes', notes, 'read', ms(c1).toFixed(0), 'build', (ms(c2) - ms(c1)).toFixed(0), 'pdf', (ms(c3) - ms(c2)).toFixed(0), 'ms/192', (192 * (ms(c3) - ms(c1)) / notes).toFixed(2), 'bytes/page', (bytes / P).toFixed(0), 'rss', (process.resourceUsage().maxRSS / 1024).toFixed(0));
  if (save) writeFileSync(save, Buffer.concat(chunks));
}
for (let i = 0; i < 3; i++) await run(n, '/tmp/q.pdf');
