/**
 * MusicXML 4.0: exercises as notation for other programs to read (W3C Music Notation Community Group, final report of
 * June 2021). Pitches are written pitches; what is added to sound them stands in `transpose`. Accidentals are those that
 * are printed, courtesies included.
 */
import { assert } from '../../issue.js';
import { equal } from '../../theory/fraction.js';
import type { Mm } from '../../units.js';
import type { Piece, PieceLine } from '../piece.js';
import { el, type XmlElement, xmlFile } from '../xml-tree.js';
import { measureElement } from './measure.js';

/** Page and staff in millimetres, so that a reader can set what was laid out. */
export type PaperSize = {
  readonly width: Mm;
  readonly height: Mm;
  readonly margins: { readonly top: Mm; readonly bottom: Mm; readonly inner: Mm; readonly outer: Mm };
  readonly staff: Mm;
};

export type MusicXmlInfo = {
  /** Of the book, when the file is part of one. */
  readonly work?: string;
  /** Of this file: an exercise, a chapter, a whole book. */
  readonly title: string;
  readonly author?: string;
  readonly copyright?: string;
  /** ISO date of the book: two exports of one book are the same bytes. */
  readonly date: string;
  readonly paper?: PaperSize;
};

const DOCTYPE = 'score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"';

function leastCommon(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y) [x, y] = [y, x % y];
  return (a / x) * b;
}

/** The fewest parts of a quarter in which every duration of the piece is whole. */
function divisionsOf(piece: Piece): number {
  let parts = 4;
  for (const { score } of piece.lines) {
    for (const bar of score.bars) for (const event of bar.events) parts = leastCommon(parts, event.duration.d);
  }
  return parts / 4;
}

function identification({ author, copyright, date }: MusicXmlInfo): XmlElement {
  const supports = (element: string, attribute?: string): XmlElement =>
    attribute === undefined ? el('supports', { element, type: 'yes' }) : el('supports', { element, type: 'yes', attribute, value: 'yes' });
  return el(
    'identification',
    {},
    author ? el('creator', { type: 'composer' }, author) : undefined,
    copyright ? el('rights', {}, copyright) : undefined,
    el(
      'encoding',
      {},
      el('software', {}, 'Twelvefold'),
      el('encoding-date', {}, date),
      supports('accidental'),
      supports('beam'),
      supports('print', 'new-page'),
      supports('print', 'new-system'),
    ),
  );
}

/** Lengths are tenths of a staff space; a staff is 40 of them high. */
function defaults({ width, height, margins, staff }: PaperSize): XmlElement {
  const tenths = (mm: Mm): string => String(Math.round((mm / staff) * 40 * 100) / 100);
  const margin = (type: 'odd' | 'even', left: Mm, right: Mm): XmlElement =>
    el(
      'page-margins',
      { type },
      el('left-margin', {}, tenths(left)),
      el('right-margin', {}, tenths(right)),
      el('top-margin', {}, tenths(margins.top)),
      el('bottom-margin', {}, tenths(margins.bottom)),
    );
  return el(
    'defaults',
    {},
    el('scaling', {}, el('millimeters', {}, String(staff)), el('tenths', {}, 40)),
    el(
      'page-layout',
      {},
      el('page-height', {}, tenths(height)),
      el('page-width', {}, tenths(width)),
      margin('odd', margins.inner, margins.outer),
      margin('even', margins.outer, margins.inner),
    ),
  );
}

/** Channel 10 of MIDI is for percussion. */
const midiChannel = (part: number): number => {
  const channel = part % 15;
  return channel < 9 ? channel + 1 : channel + 2;
};

function scorePart({ line }: PieceLine, part: number): XmlElement {
  const { name, short, soundId, midiProgram } = line.player.instrument;
  const instrument = `P${part + 1}-I1`;
  return el(
    'score-part',
    { id: `P${part + 1}` },
    el('part-name', {}, name),
    el('part-abbreviation', {}, short),
    el('score-instrument', { id: instrument }, el('instrument-name', {}, name), el('instrument-sound', {}, soundId)),
    el(
      'midi-instrument',
      { id: instrument },
      el('midi-channel', {}, midiChannel(part)),
      el('midi-program', {}, midiProgram),
      el('volume', {}, 80),
      el('pan', {}, 0),
    ),
  );
}

function measuresOf(pieces: readonly Piece[], part: number): XmlElement[] {
  const measures: XmlElement[] = [];
  for (const piece of pieces) {
    const own = piece.lines[part] as PieceLine;
    const divisions = divisionsOf(piece);
    const systems = new Set(piece.systems);
    const pages = new Set(piece.pages);
    for (const bar of own.score.bars) {
      const opens = bar.index === 0 && measures.length > 0;
      measures.push(
        measureElement(bar, own, {
          number: measures.length + 1,
          divisions,
          newSystem: opens || (bar.index > 0 && systems.has(bar.index)),
          newPage: measures.length > 0 && pages.has(bar.index),
          heading: bar.index === 0 && pieces.length > 1 ? piece.title : undefined,
          top: part === 0,
        }),
      );
    }
  }
  return measures;
}

/** All lines of a piece have the same bars, and all pieces the same staves: what one file can hold. */
function checkPieces(pieces: readonly Piece[]): void {
  const [first] = pieces;
  assert(first && first.lines.length > 0, 'something is exported');
  for (const { lines } of pieces) {
    assert(lines.length === first.lines.length, 'every piece of a file has the same staves');
    const bars = lines[0]?.score.bars ?? [];
    for (const { score } of lines) {
      assert(
        score.bars.length === bars.length && score.bars.every((bar, i) => equal(bar.length, bars[i]?.length ?? bar.length)),
        'all staves have the same bars',
      );
    }
  }
}

/**
 * One or more exercises as one MusicXML 4.0 file: one part for each staff, the exercises one after another, each from a new
 * system with its title over it. Same pieces, same text.
 */
export function musicXml(pieces: readonly Piece[], info: MusicXmlInfo): string {
  checkPieces(pieces);
  const staves = (pieces[0] as Piece).lines;
  const root = el(
    'score-partwise',
    { version: '4.0' },
    info.work ? el('work', {}, el('work-title', {}, info.work)) : undefined,
    el('movement-title', {}, info.title),
    identification(info),
    info.paper && defaults(info.paper),
    el('part-list', {}, staves.map(scorePart)),
    staves.map((_, part) => el('part', { id: `P${part + 1}` }, measuresOf(pieces, part))),
  );
  return xmlFile(root, DOCTYPE);
}
