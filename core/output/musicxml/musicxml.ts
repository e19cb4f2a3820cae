/**
 * MusicXML 4.0: exercises as notation for other programs to read (W3C Music Notation Community Group, final report of
 * June 2021). Pitches are written pitches; what is added to sound them stands in `transpose`. Accidentals are those that
 * are printed, courtesies included.
 */

import { assert } from '../../base/issue.js';
import { at } from '../../base/list.js';
import type { Mm } from '../../base/units.js';
import type { Instrument } from '../../player/player.js';
import { equal } from '../../theory/fraction.js';
import type { NotatedExercise, NotatedStaff, StaffGroup } from '../notated-exercise.js';
import { type Channel, channelsOf } from '../sound/channels.js';
import { measureElement } from './measure.js';
import { el, type XmlElement, xmlFile } from './xml-tree.js';

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
  /** Sections before the groups inside them. */
  readonly groups?: readonly StaffGroup[];
  /** For a score in concert pitch: the players' own instruments, top staff first. */
  readonly concert?: readonly Instrument[];
};

const DOCTYPE = 'score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"';

function leastCommon(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y) [x, y] = [y, x % y];
  return (a / x) * b;
}

/** The fewest parts of a quarter in which every duration of the piece is whole. */
function divisionsOf(piece: NotatedExercise): number {
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
function pageDefaults({ width, height, margins, staff }: PaperSize): XmlElement[] {
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
  return [
    el('scaling', {}, el('millimeters', {}, String(staff)), el('tenths', {}, 40)),
    el(
      'page-layout',
      {},
      el('page-height', {}, tenths(height)),
      el('page-width', {}, tenths(width)),
      margin('odd', margins.inner, margins.outer),
      margin('even', margins.outer, margins.inner),
    ),
  ];
}

/** Scaling, then whether the score is in concert pitch, then the page. */
function defaults({ paper, concert }: MusicXmlInfo): XmlElement | undefined {
  const [scaling, page] = paper ? pageDefaults(paper) : [];
  return (paper || concert) && el('defaults', {}, scaling, concert && el('concert-score'), page);
}

function scorePart({ line, part }: NotatedStaff, index: number, { port, channel }: Channel): XmlElement {
  const { name, short, soundId, midiProgram } = line.player.instrument;
  const instrument = `P${index + 1}-I1`;
  return el(
    'score-part',
    { id: `P${index + 1}` },
    el('part-name', {}, part?.name ?? name),
    el('part-abbreviation', {}, part?.short ?? short),
    el('score-instrument', { id: instrument }, el('instrument-name', {}, name), el('instrument-sound', {}, soundId)),
    port > 0 && el('midi-device', { id: instrument, port: port + 1 }),
    el(
      'midi-instrument',
      { id: instrument },
      el('midi-channel', {}, channel + 1),
      el('midi-program', {}, midiProgram),
      el('volume', {}, 80),
      el('pan', {}, 0),
    ),
  );
}

/** Sections are bracketed and have common barlines; groups inside them have a thin bracket. Names are there but not printed. */
function groupStart({ name, kind }: StaffGroup, number: number): XmlElement {
  const section = kind === 'section';
  return el(
    'part-group',
    { type: 'start', number },
    el('group-name', {}, name),
    el('group-name-display', { 'print-object': 'no' }),
    el('group-symbol', {}, section ? 'bracket' : 'square'),
    section && el('group-barline', {}, 'yes'),
  );
}

function partList(staves: readonly NotatedStaff[], groups: readonly StaffGroup[]): XmlElement {
  const channels = channelsOf(staves.map(({ line }) => line.player.instrument.midiProgram));
  return el(
    'part-list',
    {},
    staves.flatMap((own, i) => [
      ...groups.flatMap((group, g) => (group.from === i ? [groupStart(group, g + 1)] : [])),
      scorePart(own, i, at(channels, i)),
      ...groups.flatMap((group, g) => (group.to === i + 1 ? [el('part-group', { type: 'stop', number: g + 1 })] : [])).reverse(),
    ]),
  );
}

function measuresOf(pieces: readonly NotatedExercise[], part: number, own: Instrument | undefined): XmlElement[] {
  const measures: XmlElement[] = [];
  for (const piece of pieces) {
    const staff = at(piece.lines, part);
    const divisions = divisionsOf(piece);
    const systems = new Set(piece.systems);
    const pages = new Set(piece.pages);
    for (const bar of staff.score.bars) {
      const opens = bar.index === 0 && measures.length > 0;
      measures.push(
        measureElement(bar, staff, {
          number: measures.length + 1,
          divisions,
          newSystem: opens || (bar.index > 0 && systems.has(bar.index)),
          newPage: measures.length > 0 && pages.has(bar.index),
          heading: bar.index === 0 && pieces.length > 1 ? piece.title : undefined,
          top: part === 0,
          own,
        }),
      );
    }
  }
  return measures;
}

/** All lines of a piece have the same bars, and all pieces the same staves: what one file can hold. */
function checkPieces(pieces: readonly NotatedExercise[]): void {
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
 * system with its title over it. Same pieces, same text. In a concert score each staff tells how its part is transposed.
 */
export function musicXml(pieces: readonly NotatedExercise[], info: MusicXmlInfo): string {
  checkPieces(pieces);
  const staves = at(pieces, 0).lines;
  const root = el(
    'score-partwise',
    { version: '4.0' },
    info.work ? el('work', {}, el('work-title', {}, info.work)) : undefined,
    el('movement-title', {}, info.title),
    identification(info),
    defaults(info),
    partList(staves, info.groups ?? []),
    staves.map((_, part) => el('part', { id: `P${part + 1}` }, measuresOf(pieces, part, info.concert?.[part]))),
  );
  return xmlFile(root, DOCTYPE);
}
