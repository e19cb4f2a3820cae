/** Exercises → the files of one format, ready to be written. */
import { slug } from '../base/file-name.js';
import { good, type Issue, type Result } from '../base/issue.js';
import type { Book, EditionSpec } from '../book/book.js';
import { pageSize, staffHeight } from '../book/defaults.js';
import { PAGE_SIZES } from '../book/page-size.js';
import { breatheExercise } from '../breath/breathe.js';
import { lungTime } from '../breath/lung-time.js';
import { type BreathPlan, breathPlan } from '../breath/plan.js';
import { type Beats, tempoRungs } from '../breath/tempo.js';
import { barsOf } from '../engrave/bars.js';
import type { Fonts } from '../engrave/metrics.js';
import { breathMarks } from '../layout/matter/breathing-pages.js';
import { brailleText, brfFile } from '../output/braille/braille.js';
import type { Breaks } from '../output/breaks.js';
import { musicXml } from '../output/musicxml/musicxml.js';
import { mxl } from '../output/musicxml/mxl.js';
import { openPngPainter, type PaintPicture, type Rasteriser } from '../output/picture/png.js';
import { exerciseSlides, keySlides, type Slide, type SlideOptions } from '../output/picture/slides.js';
import type { PieceLine } from '../output/piece.js';
import { type AudioOptions, practiceAudio } from '../output/sound/audio.js';
import { midiExport } from '../output/sound/midi.js';
import { type Performance, type PerformanceOptions, perform } from '../output/sound/performance.js';
import { spokenText } from '../output/words/spoken.js';
import type { Line } from '../player/line.js';
import { tempoBeat } from '../theory/metre.js';

export const FORMATS = ['musicxml', 'mxl', 'midi', 'wav', 'svg', 'png', 'brf', 'braille', 'text'] as const;
export type Format = (typeof FORMATS)[number];

const ENDINGS: Readonly<Record<Format, string>> = {
  musicxml: 'musicxml',
  mxl: 'mxl',
  midi: 'mid',
  wav: 'wav',
  svg: 'svg',
  png: 'png',
  brf: 'brf',
  braille: 'braille.txt',
  text: 'txt',
};

export type ExportFile = { readonly name: string; chunks(): Iterable<Uint8Array | string> };

export type Wishes = Pick<PerformanceOptions, 'countIn' | 'click'> &
  AudioOptions &
  SlideOptions & {
    /** Beats a minute; the slowest of the exercise when not said. */
    readonly bpm?: number;
    /** Runs from the slowest to the fastest tempo of the exercise. */
    readonly ladder?: number;
    readonly eachKey?: boolean;
  };

export type Selection = {
  readonly book: Book;
  readonly edition: EditionSpec;
  readonly lines: readonly Line[];
  /** Of the chapter or the book when it is all of one; else of the exercise. */
  readonly title: string;
  /** Where the edition's systems and pages begin; empty when it is not laid out. */
  readonly breaks: ReadonlyMap<string, Breaks>;
  /** Begins every file name. */
  readonly stem: string;
  readonly fonts: Fonts;
};

export const file = (name: string, bytes: Uint8Array | string): ExportFile => ({ name, chunks: () => [bytes] });

/** The line with the breath marks of its edition; without them where the air lasts at no tempo, which is told. */
function breathed(line: Line, { breath }: EditionSpec): Result<PieceLine> {
  const plain = good({ line, score: barsOf(line) });
  if (breath.print === 'none') return plain;
  const { manner, added, breather } = breath;
  const lung = lungTime(breather, line.player.instrument, { dynamic: line.exercise.dynamic });
  if (!lung.ok) return lung;
  if (!lung.value) return plain;
  const found = breatheExercise(line, lung.value, { manner, added });
  return found.ok ? good({ line, score: barsOf(line, breathMarks(found.value)) }, found.issues) : found;
}

/** The breaths at one tempo, for sound. */
function plannedAt(line: Line, tempo: Beats, { breath }: EditionSpec): Result<BreathPlan | undefined> {
  if (breath.print === 'none') return good(undefined);
  const { manner, added, breather } = breath;
  const lung = lungTime(breather, line.player.instrument, { dynamic: line.exercise.dynamic });
  if (!lung.ok) return lung;
  if (!lung.value) return good(undefined);
  const plan = breathPlan(line, tempo, lung.value, { manner, added });
  if (plan.ok) return plan;
  // Too slow for this air: it is played through, and told.
  const told = plan.issues.map((issue): Issue => (issue.code === 'air-runs-out' ? { ...issue, severity: 'warning' } : issue));
  return told.some((issue) => issue.severity === 'error') ? { ok: false, issues: told } : good(undefined, told);
}

/** Tempos that an exercise is played at: one, or the rungs of a ladder. */
function temposOf({ exercise }: Line, { bpm, ladder }: Wishes): Result<readonly Beats[]> {
  const { tempo, metre } = exercise;
  const beat = tempo?.beat ?? tempoBeat(metre);
  const from = bpm ?? tempo?.from ?? 80;
  if (ladder === undefined) return good([{ beat, bpm: from }]);
  const rungs = tempoRungs(from, Math.max(from, tempo?.to ?? from), ladder);
  return rungs.ok ? good(rungs.value.map((number) => ({ beat, bpm: number }))) : rungs;
}

function performances(line: Line, selection: Selection, wishes: Wishes): Result<readonly Performance[]> {
  const tempos = temposOf(line, wishes);
  if (!tempos.ok) return tempos;
  const issues: Issue[] = [];
  const runs: Performance[] = [];
  for (const tempo of tempos.value) {
    const plan = plannedAt(line, tempo, selection.edition);
    if (!plan.ok) return plan;
    issues.push(...plan.issues);
    const run = perform(line, { tempo, countIn: wishes.countIn, click: wishes.click, ...(plan.value ? { breaths: plan.value } : {}) });
    if (!run.ok) return run;
    runs.push(run.value);
  }
  return good(runs, issues);
}

function scoreFile(format: 'musicxml' | 'mxl', selection: Selection): Result<ExportFile[]> {
  const { book, edition, lines, title, breaks, stem } = selection;
  const issues: Issue[] = [];
  const pieces = [];
  for (const line of lines) {
    const own = breathed(line, edition);
    if (!own.ok) return own;
    issues.push(...own.issues);
    pieces.push({ title: line.exercise.title, lines: [own.value], ...breaks.get(line.exercise.id) });
  }
  const paper = { ...PAGE_SIZES[pageSize(book, edition)], margins: book.house.margins, staff: staffHeight(book, edition) };
  const info = { work: book.title, title, author: book.author, copyright: book.copyright, date: book.date, paper };
  const xml = musicXml(pieces, info);
  const name = lines.length === 1 ? `${stem}-${slug(lines[0]?.exercise.id ?? '')}` : stem;
  return good([file(`${name}.${ENDINGS[format]}`, format === 'mxl' ? mxl(xml, name, book.date) : xml)], issues);
}

/** Who paints the PNG pictures: this thread when it comes to writing them, by its rasteriser; or others, at once. */
export type Painter = Rasteriser | { readonly paint: PaintPicture };

async function slideFiles(
  format: 'svg' | 'png',
  own: PieceLine,
  name: string,
  fonts: Fonts,
  wishes: Wishes,
  painter: Painter,
): Promise<ExportFile[]> {
  const slides: Slide[] = wishes.eachKey ? keySlides(own.line, fonts, wishes) : exerciseSlides(own, fonts, wishes);
  const nameOf = (i: number): string => `${name}${slides.length > 1 ? `-${String(i + 1).padStart(2, '0')}` : ''}.${format}`;
  if (format === 'svg') return slides.map(({ svg }, i) => file(nameOf(i), svg));
  if (typeof painter !== 'function') {
    const pictures = await Promise.all(slides.map(({ svg, width }) => painter.paint(svg, width)));
    return pictures.map((png, i) => file(nameOf(i), png));
  }
  const paint = await openPngPainter(painter);
  return slides.map(({ svg, width }, i) => ({ name: nameOf(i), chunks: () => [paint(svg, width)] }));
}

/** Formats that hold one exercise a file. */
async function exerciseFiles(
  format: Format,
  line: Line,
  selection: Selection,
  wishes: Wishes,
  painter: Painter,
): Promise<Result<ExportFile[]>> {
  const { title, id } = line.exercise;
  const name = `${selection.stem}-${slug(id)}`;
  const whole = `${name}.${ENDINGS[format]}`;
  if (format === 'midi' || format === 'wav') {
    const runs = performances(line, selection, format === 'midi' ? { ...wishes, ladder: undefined } : wishes);
    if (!runs.ok) return runs;
    if (format === 'midi') return good([file(whole, midiExport(title, runs.value))], runs.issues);
    const audio = practiceAudio(runs.value, wishes);
    return audio.ok ? good([{ name: whole, chunks: audio.value.chunks }], runs.issues) : audio;
  }
  const own = breathed(line, selection.edition);
  if (!own.ok) return own;
  if (format === 'svg' || format === 'png')
    return good(await slideFiles(format, own.value, name, selection.fonts, wishes, painter), own.issues);
  const written = { brf: brfFile, braille: brailleText, text: spokenText }[format as 'brf' | 'braille' | 'text'];
  return good([file(whole, written(title, own.value))], own.issues);
}

/** MusicXML holds all the exercises in one file, the other formats one each. */
export async function exportFiles(
  format: Format,
  selection: Selection,
  wishes: Wishes,
  painter: Painter,
): Promise<Result<readonly ExportFile[]>> {
  if (format === 'musicxml' || format === 'mxl') return scoreFile(format, selection);
  const files: ExportFile[] = [];
  const issues: Issue[] = [];
  // Others may paint the slides of one exercise while those of the next are set.
  const all = await Promise.all(selection.lines.map((line) => exerciseFiles(format, line, selection, wishes, painter)));
  for (const own of all) {
    if (!own.ok) return own;
    files.push(...own.value);
    issues.push(...own.issues);
  }
  return good(files, issues);
}
