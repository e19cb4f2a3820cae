/**
 * An exercise as music braille for one line, in Unicode braille or as a BRF file for embossers and displays. Signs and rules
 * after the Music Braille Code (BANA; the places stand beside the rules), the order of the heading from memory. Every line of cells begins
 * with the number of its first bar, so that a reader can find a place. Bars are parted only where one is longer than a line, by a
 * music hyphen and never inside a group of short notes (Music Braille Code 1997, 7.3.2 and 7.3.5).
 */

import { assert } from '../../base/issue.js';
import type { Bar } from '../../engrave/bar.js';
import { degreeText } from '../../engrave/signed-text.js';
import type { Pitch } from '../../theory/pitch.js';
import type { NotatedStaff } from '../notated-exercise.js';
import { BLANK, barEnd, barUnits, needsOctave, signatureChange, type Token } from './bar.js';
import { brf, metreCells, noteCell, numberCells, octaveMark, SIGN, signatureCells, upperDigits, wordCells } from './cells.js';

export type BrailleOptions = {
  /** Cells in a line; 40 when not said. */
  readonly width?: number;
  /** Lines on a page; 25 when not said. */
  readonly height?: number;
};

const WIDTH = 40;
const HEIGHT = 25;

/** Of a line that goes on with the line before. */
const INDENT = BLANK.repeat(2);

/** `♩ = 60–96`: a note, the equals sign, numbers. */
function tempoCells({ line }: NotatedStaff): string {
  const { tempo } = line.exercise;
  if (!tempo) return '';
  const dotted = tempo.beat.n === 3;
  const note = noteCell(0, dotted ? tempo.beat.d / 2 : tempo.beat.d) + (dotted ? SIGN.dot : '');
  return note + SIGN.equals + numberCells(tempo.from) + (tempo.from === tempo.to ? '' : SIGN.dash + numberCells(tempo.to));
}

/** Wraps words to lines of cells, run-over lines two cells in. */
function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of wordCells(text).split(BLANK)) {
    const next = current === '' ? word : current + BLANK + word;
    if ([...next].length <= width) current = next;
    else {
      if (current !== '') lines.push(current);
      current = INDENT + word.slice(0, width - 2);
    }
  }
  return current === '' ? lines : [...lines, current];
}

/** Cells of tokens in a row, given the note before them, and the last note. */
function rowOf(tokens: readonly Token[], before: Pitch | undefined): { text: string; last: Pitch | undefined } {
  let last = before;
  let text = '';
  for (const token of tokens) {
    const mark = token.pitch && (token.marked || needsOctave(last, token.pitch)) ? octaveMark(token.pitch.octave) : '';
    text += token.before + mark + token.note;
    last = token.pitch ?? last;
  }
  return { text, last };
}

/** Lines of music: as many bars as fit, then the next line with a bar number and an octave mark. */
function musicLines(own: NotatedStaff, width: number): string[] {
  const { bars } = own.score;
  const lines: string[] = [];
  let line = '';
  let last: Pitch | undefined;
  const open = (bar: Bar): void => {
    if (line !== '') lines.push(line);
    line = SIGN.number + upperDigits(bar.index + 1);
    last = undefined;
  };
  const fits = (text: string): boolean => [...line].length + [...text].length <= width;
  for (const bar of bars) {
    const units = barUnits(bar, own);
    const tokens = units.flatMap((unit) => unit.tokens);
    const change = signatureChange(bar);
    const lead = BLANK + (change === '' ? '' : change + BLANK);
    // After a change of signature or a double bar the octave is told anew.
    const fresh = change !== '' || bars[bar.index - 1]?.barline === 'double';
    let row = rowOf(tokens, fresh ? undefined : last);
    if (line === '' || !fits(lead + row.text + barEnd(bar))) {
      open(bar);
      row = rowOf(tokens, undefined);
    }
    if (fits(lead + row.text + barEnd(bar))) {
      line += lead + row.text + barEnd(bar);
      last = row.last;
      continue;
    }
    line += lead;
    // A group that would not fit a line, with a hyphen or the bar's end behind it, is written out and may be parted.
    const room = width - [...line].length - Math.max(1, [...barEnd(bar)].length);
    const parts = units.flatMap(({ tokens, plain }) =>
      [...rowOf(tokens, undefined).text].length <= room ? [tokens] : plain.map((one) => [one]),
    );
    parts.forEach((part, i) => {
      const end = i === parts.length - 1 ? barEnd(bar) : SIGN.hyphen;
      let one = rowOf(part, last);
      if (!fits(one.text + end)) {
        lines.push(line + SIGN.hyphen);
        line = INDENT;
        one = rowOf(part, undefined);
      }
      line += i === parts.length - 1 ? one.text + end : one.text;
      last = one.last;
    });
  }
  return line === '' ? lines : [...lines, line];
}

/** The lines of an exercise in Unicode braille: title, player, figure, a heading with tempo, signature and metre, then the music. */
export function brailleLines(title: string, own: NotatedStaff, options: BrailleOptions = {}): string[] {
  const { line, score } = own;
  const { width = WIDTH } = options;
  assert(width >= 20, 'a braille line has 20 cells at least');
  const { metre, figure } = line.exercise;
  const tempo = tempoCells(own);
  const heading = (tempo === '' ? '' : tempo + BLANK) + signatureCells(score.bars[0]?.fifths ?? 0) + metreCells(metre.beats, metre.unit);
  const indent = Math.max(0, Math.floor((width - [...heading].length) / 2));
  return [
    ...wrapped(title, width),
    ...wrapped(line.player.instrument.name, width),
    ...wrapped(figure.tones.map((tone) => degreeText(figure.text.slice(...tone.span))).join(' '), width),
    BLANK.repeat(indent) + heading,
    ...musicLines(own, width),
  ];
}

/** Unicode braille, one line of cells a line. */
export const brailleText = (title: string, own: NotatedStaff, options: BrailleOptions = {}): string =>
  `${brailleLines(title, own, options).join('\n')}\n`;

/** BRF: ASCII braille in lines ended by CR LF, pages by a form feed. */
export function brfFile(title: string, own: NotatedStaff, options: BrailleOptions = {}): string {
  const { height = HEIGHT } = options;
  const lines = brailleLines(title, own, options).map((line) => line.replace(/⠀+$/, ''));
  const pages = Array.from({ length: Math.ceil(lines.length / height) }, (_, i) => lines.slice(i * height, (i + 1) * height));
  return pages.map((page) => page.map((line) => `${brf(line)}\r\n`).join('')).join('\f');
}
