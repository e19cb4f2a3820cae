/** What the exports of an edition take: every format for each of its exercises, and the speed of practice audio. */
import { withPictures } from '../core/batch/pictures.js';
import type { Book, EditionSpec } from '../core/book/book.js';
import { installedRasteriser } from '../core/disk/rasteriser.js';
import type { Format } from '../core/export/format-names.js';
import { exportFiles, type Painter, type Wishes } from '../core/export/formats.js';
import type { Selection } from '../core/export/selection.js';
import type { Line } from '../core/player/line.js';
import { benchBook } from './book.js';
import { build, openAllFonts } from './own.js';
import { cpuNow } from './timing.js';

/** Two exercises a page. */
const PAGES = 20;
const FORMATS = ['musicxml', 'mxl', 'midi', 'svg', 'png', 'brf', 'braille', 'text'] as const satisfies readonly Format[];
/** Slides of 1080 lines; sound at 44,100 samples a second with clicks. */
const WISHES: Wishes = { ground: 'light', eachKey: false };
const SOUND: Wishes = { ...WISHES, click: true };

export type ExchangeFigures = {
  readonly exercises: number;
  /** Seconds of CPU on one core, by format; those of MusicXML lay out the edition, since they tell its breaks. */
  readonly seconds: Readonly<Record<(typeof FORMATS)[number], number>>;
  /** Seconds on the clock for all of them, pictures on all cores. */
  readonly clock: number;
  /** Seconds of sound made in a second of CPU. */
  readonly audio: number;
};

type Edition = { readonly book: Book; readonly edition: EditionSpec; readonly lines: readonly Line[] };

async function bytesOf(format: Format, edition: Edition, wishes: Wishes, painter: Painter = installedRasteriser): Promise<number> {
  let bytes = 0;
  const selection: Selection = { ...edition, title: edition.book.title, stem: 'bench', fonts: openAllFonts() };
  const files = await exportFiles(format, selection, wishes, painter);
  if (!files.ok) throw new Error(files.issues.map(({ message }) => message).join('\n'));
  for (const file of files.value) for (const chunk of file.chunks()) bytes += chunk.length;
  return bytes;
}

/** Each measured when the engine has settled: the second time. */
export async function exchangeFigures(): Promise<ExchangeFigures> {
  const book = benchBook(PAGES);
  const fonts = openAllFonts();
  const edition: Edition = { book, edition: book.editions[0] as EditionSpec, lines: [...build(book, fonts).lines.values()] };
  const seconds: Partial<Record<(typeof FORMATS)[number], number>> = {};
  let clock = 0;
  for (let round = 0; round < 2; round++) {
    const begun = performance.now();
    let pictures = 0;
    for (const format of FORMATS) {
      const at = performance.now();
      const start = cpuNow();
      await bytesOf(format, edition, WISHES);
      seconds[format] = (cpuNow() - start) / 1000;
      if (format === 'png') pictures = performance.now() - at;
    }
    // On the clock the pictures come from all cores, as the command makes them.
    const at = performance.now();
    await withPictures(2 * edition.lines.length, new AbortController().signal, (paint) => bytesOf('png', edition, WISHES, { paint }));
    clock = (at - begun - pictures + (performance.now() - at)) / 1000;
  }
  const start = cpuNow();
  // 16 bits a sample, one channel.
  const sound = (await bytesOf('wav', edition, SOUND)) / 2 / 44100;
  const audio = sound / ((cpuNow() - start) / 1000);
  return { exercises: edition.lines.length, seconds: seconds as ExchangeFigures['seconds'], clock, audio };
}

/** A table of seconds by format, and what they come to. */
export async function exchangeReport(): Promise<{ readonly lines: readonly string[]; readonly clock: number; readonly audio: number }> {
  const { exercises, seconds, clock, audio } = await exchangeFigures();
  const columns = Object.entries(seconds);
  const sum = columns.reduce((all, [, one]) => all + one, 0);
  const cells = (texts: readonly string[]): string => texts.map((text) => text.padStart(10)).join('');
  return {
    lines: [
      `${`all exports of an edition of ${exercises} exercises, CPU seconds`.padEnd(52)}${sum.toFixed(2).padStart(10)}`,
      cells(columns.map(([name]) => name)),
      cells(columns.map(([, one]) => one.toFixed(2))),
      `${'seconds on the clock, pictures on all cores'.padEnd(52)}${clock.toFixed(2).padStart(10)}`,
      `${'seconds of sound in a second'.padEnd(52)}${audio.toFixed(0).padStart(10)}`,
    ],
    clock,
    audio,
  };
}
