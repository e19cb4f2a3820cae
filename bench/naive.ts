/** The obvious way: a drawing library's SVG output in a simulated browser, then an SVG-to-PDF converter. Same music, same systems. */
import { JSDOM } from 'jsdom';
import PDFDocument from 'pdfkit';
import svgToPdf from 'svg-to-pdfkit';
import {
  Accidental,
  Annotation,
  Articulation,
  Beam,
  Curve,
  Dot,
  Formatter,
  Renderer,
  Stave,
  StaveNote,
  StaveTie,
  Fraction as Ticks,
  Voice,
} from 'vexflow/core';
import type { Bar, BarEvent, Score } from '../core/engrave/bar.js';
import { barsOf } from '../core/engrave/bars.js';
import type { Fonts } from '../core/engrave/metrics.js';
import type { Line } from '../core/player/line.js';
import { keyText } from '../core/theory/key.js';
import { letterName } from '../core/theory/pitch.js';
import { measureWith } from './vexflow-measure.js';

/** Lines of a page, each with the bars that begin its systems. */
export type NaivePage = readonly { readonly line: Line; readonly systems: readonly number[] }[];

const WIDTH = 720;
const HEIGHT = 1020;
const SYSTEM = 80;

const DURATIONS: Readonly<Record<number, string>> = { 1: 'w', 2: 'h', 4: 'q', 8: '8', 16: '16', 32: '32' };
const SIGNS: Readonly<Record<number, string>> = { [-2]: 'bb', [-1]: 'b', 0: 'n', 1: '#', 2: '##' };
const MARKS = { staccato: 'a.', accent: 'a>', tenuto: 'a-' } as const;

function noteOf(event: BarEvent, bar: Bar, score: Score, clef: string): StaveNote {
  const duration = `${DURATIONS[event.base.d]}${'d'.repeat(event.dots)}${event.kind === 'rest' ? 'r' : ''}`;
  if (event.kind === 'rest') return new StaveNote({ keys: ['b/4'], duration, clef });
  const { letter, alter, octave } = event.pitch;
  const plain = SIGNS[alter] === 'n' ? '' : SIGNS[alter];
  const note = new StaveNote({ keys: [`${letterName(letter).toLowerCase()}${plain}/${octave}`], duration, clef, autoStem: true });
  if (event.sign) note.addModifier(new Accidental(SIGNS[event.sign.alter] as string), 0);
  if (event.dots > 0) Dot.buildAndAttach([note]);
  const mark = score.marks.get(event.event);
  if (mark && !event.tieIn) note.addModifier(new Articulation(MARKS[mark]).setPosition(3), 0);
  const start = bar.starts.find((s) => s.event === event.event);
  if (start && !event.tieIn) {
    const name = new Annotation(keyText(start.key).replace('♭', 'b').replace('♯', '#')).setFont('serif', 10);
    note.addModifier(name.setVerticalJustification(Annotation.VerticalJustify.TOP), 0);
  }
  return note;
}

type Drawn = { readonly note: StaveNote; readonly event: BarEvent };

function drawSystem(context: ReturnType<Renderer['getContext']>, score: Score, line: Line, from: number, to: number, y: number): void {
  const { clef } = line.player.instrument;
  const width = (WIDTH - 40) / (to - from);
  const drawnNotes: Drawn[] = [];
  for (let b = from; b < to; b++) {
    const bar = score.bars[b] as Bar;
    const stave = new Stave(20 + (b - from) * width, y, width);
    if (b === from) stave.addClef(clef);
    if (b === 0) stave.addTimeSignature(`${line.exercise.metre.beats}/${line.exercise.metre.unit}`);
    stave.setContext(context).draw();
    const notes = bar.events.map((event) => noteOf(event, bar, score, clef));
    const beams = Beam.generateBeams(notes, { groups: [new Ticks(1, 2)] });
    const voice = new Voice({ numBeats: 4, beatValue: 4 }).setMode(Voice.Mode.SOFT).addTickables(notes);
    new Formatter().joinVoices([voice]).formatToStave([voice], stave);
    voice.draw(context, stave);
    for (const beam of beams) beam.setContext(context).draw();
    for (const [i, event] of bar.events.entries()) drawnNotes.push({ event, note: notes[i] as StaveNote });
  }
  drawnNotes.forEach(({ event, note }, i) => {
    if (event.kind !== 'note' || !event.tieOut) return;
    const next = drawnNotes[i + 1];
    if (next) new StaveTie({ firstNote: note, lastNote: next.note, firstIndexes: [0], lastIndexes: [0] }).setContext(context).draw();
  });
  for (const { from: first, to: last } of score.slurs) {
    const a = drawnNotes.find((d) => d.event.event === first);
    const b = drawnNotes.findLast((d) => d.event.event === last);
    if (a && b) new Curve(a.note, b.note, {}).setContext(context).draw();
  }
}

/** SVG of one page. */
function pageSvg(page: NaivePage): SVGElement {
  const holder = document.createElement('div');
  const renderer = new Renderer(holder as HTMLDivElement, Renderer.Backends.SVG);
  renderer.resize(WIDTH, HEIGHT);
  const context = renderer.getContext();
  let y = 10;
  for (const { line, systems } of page) {
    const score = barsOf(line);
    systems.forEach((from, i) => {
      drawSystem(context, score, line, from, systems[i + 1] ?? score.bars.length, y);
      y += SYSTEM;
    });
  }
  return holder.firstChild as SVGElement;
}

/** Makes this process a browser, as far as the library needs one. */
export function becomeBrowser(fonts: Fonts): void {
  globalThis.document = new JSDOM('<!doctype html>').window.document;
  measureWith(fonts);
}

/** SVG texts of the pages, as a browser would be given them. */
export const naiveSvg = (pages: readonly NaivePage[]): string[] => pages.map((page) => pageSvg(page).outerHTML);

/** All pages as one PDF; returns its size in bytes. */
export async function naivePdf(pages: readonly NaivePage[], fonts: Fonts): Promise<number> {
  const pdf = new PDFDocument({ size: [WIDTH * 0.75, HEIGHT * 0.75], margin: 0, autoFirstPage: false, font: '' } as never);
  pdf.registerFont('music', fonts.files.music as Buffer);
  pdf.registerFont('roman', fonts.files.roman as Buffer);
  let bytes = 0;
  pdf.on('data', (chunk: Buffer) => {
    bytes += chunk.length;
  });
  const ended = new Promise((done) => pdf.on('end', done));
  for (const page of pages) {
    pdf.addPage();
    pdf.font('music');
    svgToPdf(pdf, pageSvg(page), 0, 0, {
      fontCallback: (family) => (family.includes('serif') ? 'roman' : 'music'),
      warningCallback: () => {},
    });
  }
  pdf.end();
  await ended;
  return bytes;
}
