/**
 * Speed and memory, side by side in one run: `npm run bench`. `-- --quick` leaves out the long books and the browser;
 * `-- --record` adds a line to bench/history.jsonl; `-- --profile` tells instead which functions take the time.
 */
import { spawnSync } from 'node:child_process';
import { appendFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { batchFigures } from './batch.js';
import { benchBook, PAGE_NOTES } from './book.js';
import { breathSeconds } from './breath.js';
import { editorReport } from './editor.js';
import { exchangeReport } from './exchange.js';
import { hotSpots } from './hot-spots.js';
import { becomeBrowser, type NaivePage, naivePdf, naiveSvg } from './naive.js';
import { printed, verovio } from './others.js';
import { build, drawn, fontBytes, notesOf, openAllFonts, paint } from './own.js';
import { growth, steady } from './timing.js';

const quick = process.argv.includes('--quick');
const record = process.argv.includes('--record');
const PAGES = 100;

const say = (line = ''): void => void process.stdout.write(`${line}\n`);
const left = (text: string, width: number): string => text.padEnd(width);
const right = (value: number | undefined, width: number, digits = 1): string =>
  (value === undefined ? '–' : value.toFixed(digits)).padStart(width);

type ChildResult = { readonly pages: number; readonly notes: number; readonly cpu: number; readonly bytes: number; readonly peak: number };

function child(pages: number, manner: 'cold' | 'warm'): ChildResult {
  const path = fileURLToPath(new URL('child.js', import.meta.url));
  const { status, stdout, stderr } = spawnSync(process.execPath, [path, `${pages}`, manner], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as ChildResult;
}

if (process.argv.includes('--profile')) {
  for (const one of hotSpots(300)) say(one);
  process.exit();
}

const fonts = openAllFonts();
const book = benchBook(PAGES);
const edition = build(book, fonts);
const notes = notesOf(edition.lines.values());
/** Everything is told for a page of 192 notes, so that all ways are measured by the same music. */
const per = (cpu: number, of = notes): number => (cpu * PAGE_NOTES) / of;

/** Pages of the same music for the other ways, broken into the same systems. */
const systemsOf = new Map<string, number[]>();
for (const page of edition.document.pages)
  for (const item of page.items)
    if (item.kind === 'drawing' && item.exercise !== undefined) {
      const bars = item.draw().marks.flatMap((mark) => (mark.role === 'barline' ? [mark.owner.bar ?? 0] : []));
      systemsOf.set(item.exercise, [...(systemsOf.get(item.exercise) ?? []), Math.min(...bars)]);
    }
const music = [...edition.lines].map(([id, line]) => ({ line, systems: systemsOf.get(id) ?? [0] }));
const pages: NaivePage[] = [];
for (let i = 0; i < music.length; i += 2) pages.push(music.slice(i, i + 2));

say(
  `${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}; ${notes} notes on ${pages.length} pages of music; CPU of all threads`,
);
say();

const own = per(await steady(8, () => paint(build(book, fonts).document, fonts)));
const layout = per(await steady(6, () => build(book, fonts)));
const ready = drawn(edition.document);
const floor = per(await steady(8, () => paint(ready, fonts)));

becomeBrowser(fonts);
const some = pages.slice(0, quick ? 4 : 10);
const someNotes = notesOf(some.flatMap((page) => page.map(({ line }) => line)));
let naiveBytes = 0;
const naive = per(
  await steady(quick ? 2 : 4, async () => {
    naiveBytes = await naivePdf(some, fonts);
  }),
  someNotes,
);
const engraver = per(await verovio(some), someNotes);
const browser = quick ? undefined : printed(naiveSvg(some), fonts);
const browserCpu = browser?.cpu === undefined ? undefined : per(browser.cpu, someNotes);

const buffers: Uint8Array[] = [];
const bytes = await paint(edition.document, fonts, (chunk) => void buffers.push(chunk));
const fontShare = fontBytes(Buffer.concat(buffers));
const pageBytes = (bytes - fontShare) / edition.document.pages.length;

say(
  `${left('way', 52)}${'ms a page'.padStart(10)}${'notes/s'.padStart(10)}${'pages/s'.padStart(9)}${'to (a)'.padStart(8)}${'KB a page'.padStart(11)}`,
);
const row = (name: string, ms: number | undefined, kb: number | undefined): void =>
  say(
    `${left(name, 52)}${right(ms, 10)}${right(ms && (1000 * PAGE_NOTES) / ms, 10, 0)}${right(ms && 1000 / ms, 9)}${right(ms && ms / own, 8, 2)}${right(kb, 11)}`,
  );
row('(a) this program, book to PDF', own, pageBytes / 1024);
row('    of it lines, breaths, layout', layout, undefined);
row('    of it painting', own - layout, undefined);
row('(b) drawing library in jsdom, svg-to-pdfkit', naive, naiveBytes / some.length / 1024);
row('(c) the same SVG printed by Chromium, its start in it', browserCpu, browser && browser.bytes / some.length / 1024);
row('(d) verovio, MusicXML to SVG', engraver, undefined);
row('(e) floor: painting drawings made beforehand', floor, undefined);
say(`    fonts in the PDF: ${(fontShare / 1024).toFixed(0)} KB a book`);
say();

const sizes = quick ? [10, 50, 200] : [10, 50, 200, 500, 2000];
const grown = sizes.map((size) => child(size, 'warm'));
say(`${left('pages in the book (a warm process each)', 52)}${'ms a page'.padStart(10)}${'seconds'.padStart(10)}`);
for (const one of grown) say(`${left(`${one.pages}`, 52)}${right(per(one.cpu, one.notes), 10)}${right(one.cpu / 1000, 10, 2)}`);
const exponent = growth(grown);
say(`growth exponent ${exponent.toFixed(3)}`);
say();

// Pages of music; with front matter, openings and the pages that turns ask for the books have 500 and 2,000 in all.
const memory = (quick ? [180] : [452, 1822]).map((music) => child(music, 'cold'));
for (const one of memory)
  say(
    `${left(`peak memory, a book of ${one.pages} pages, cold process`, 52)}${right(one.peak, 10, 0)} MB ${right(per(one.cpu, one.notes), 8)} ms a page`,
  );
say();

if (!quick) {
  const { stdout } = spawnSync('npx', ['tsx', 'tests/proof/thousand.mts'], { encoding: 'utf8' });
  say(stdout.trim());
  say();
}

const breaths = breathSeconds();
say(`${left(`breath plans, ${breaths.plans}, seconds on one core`, 52)}${right(breaths.seconds, 10, 2)}`);
say();

const editor = editorReport(fonts, !quick);
for (const line of editor.lines) say(line);
say();

const batchGoals = await batchFigures((...words) => say(words.join('')), quick);
say();

const exchange = await exchangeReport();
for (const line of exchange.lines) say(line);
say();

type Goal = readonly [string, number | undefined, 'most' | 'least', number];
const peakOf = (size: number): number | undefined => memory.find((one) => Math.abs(one.pages - size) <= size / 50)?.peak;
const goals: readonly Goal[] = [
  ['(a) ms a page', own, 'most', 25],
  ['(b) / (a)', naive / own, 'least', 30],
  ['(a) / (e)', own / floor, 'most', 2],
  ['(d) / (a), per note', engraver / own, 'least', 1],
  ['growth exponent', exponent, 'most', 1.05],
  ['peak MB, 500 pages', peakOf(500), 'most', 300],
  ['peak MB, 2000 pages', peakOf(2000), 'most', 400],
  ['KB a page beyond fonts', pageBytes / 1024, 'most', 6],
  ['s, 64,000 breath plans', breaths.seconds, 'most', 2],
  ['s, all exports, 40 exercises', exchange.clock, 'most', 3],
  ['s of sound in a second', exchange.audio, 'least', 100],
  ['ms, one character to its page', editor.median, 'most', 50],
  ...batchGoals,
];
for (const [name, value, side, limit] of goals) {
  const verdict = value === undefined ? 'not measured' : (side === 'most' ? value <= limit : value >= limit) ? 'reached' : 'missed';
  say(`${left(name, 34)}${right(value, 9, 2)}   ${side === 'most' ? '≤' : '≥'} ${left(`${limit}`, 6)} ${verdict}`);
}

if (record) {
  const entry = {
    date: new Date().toISOString().slice(0, 10),
    node: process.version,
    processor: cpus()[0]?.model,
    ms: { own, layout, naive, browser: browserCpu, engraver, floor },
    exponent,
    pageBytes,
    editor: editor.median,
    peak: Object.fromEntries(memory.map((one) => [one.pages, one.peak])),
  };
  const rounded = JSON.stringify(entry, (_, value) => (typeof value === 'number' ? Math.round(value * 100) / 100 : value));
  appendFileSync(new URL('../../bench/history.jsonl', import.meta.url), `${rounded}\n`);
  say('added to bench/history.jsonl');
}
