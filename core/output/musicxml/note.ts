/** One written note or rest as MusicXML 4.0, with everything that hangs on it. */

import { assert } from '../../base/issue.js';
import { at as itemAt } from '../../base/list.js';
import type { Bar, BarEvent, BarNote, BarTuplet, Score } from '../../engrave/bar.js';
import { beamCount } from '../../engrave/beam-groups.js';
import { div, equal, type Fraction, frac, mod, mul, sum } from '../../theory/fraction.js';
import { letterName } from '../../theory/pitch.js';
import { el, type XmlElement } from './xml-tree.js';

/** Names of note values by their denominator (W3C MusicXML 4.0, note-type-value). */
const TYPES: Readonly<Record<number, string>> = { 1: 'whole', 2: 'half', 4: 'quarter', 8: 'eighth', 16: '16th', 32: '32nd', 64: '64th' };

/** From two flats to two sharps. */
const SIGNS = ['flat-flat', 'flat', 'natural', 'sharp', 'double-sharp'] as const;

/** `eighth` for 1/8. */
export function typeName(base: Fraction): string {
  const name = base.n === 1 ? TYPES[base.d] : undefined;
  assert(name, `${base.n}/${base.d} is a note value`);
  return name;
}

const written = (event: BarEvent): Fraction => mul(event.base, frac(2 ** (event.dots + 1) - 1, 2 ** event.dots));

/** The value of which the tuplet holds `actual`: an eighth for three eighths. */
function unitOf(tuplet: BarTuplet, bar: Bar): Fraction | undefined {
  const unit = div(sum(tuplet.events.map((i) => written(itemAt(bar.events, i)))), frac(tuplet.actual));
  return unit.n === 1 && TYPES[unit.d] ? unit : undefined;
}

function timeModification(tuplet: BarTuplet, event: BarEvent, bar: Bar): XmlElement {
  const unit = unitOf(tuplet, bar);
  return el(
    'time-modification',
    {},
    el('actual-notes', {}, tuplet.actual),
    el('normal-notes', {}, tuplet.normal),
    unit && !equal(unit, event.base) && el('normal-type', {}, typeName(unit)),
  );
}

/** Beams of one note, outermost first: its place in the group on each level, a lone one as a hook. */
function beams(bar: Bar, at: number): XmlElement[] {
  const group = bar.beams.find((one) => one.includes(at));
  if (!group) return [];
  const place = group.indexOf(at);
  const count = (k: number): number => {
    const index = group[k];
    return index === undefined ? 0 : beamCount(itemAt(bar.events, index).base);
  };
  const event = itemAt(bar.events, at);
  return Array.from({ length: count(place) }, (_, i) => {
    const level = i + 1;
    const before = count(place - 1) >= level;
    const after = count(place + 1) >= level;
    const value = before && after ? 'continue' : before ? 'end' : after ? 'begin' : hook(place, group.length, level, event.onset);
    return el('beam', { number: level }, value);
  });
}

/** A lone beamlet points into its group, inside it to the side of its own larger value. */
function hook(place: number, size: number, level: number, onset: Fraction): string {
  if (place === 0) return 'forward hook';
  if (place === size - 1) return 'backward hook';
  return mod(onset, frac(1, 2 ** level * 2)).n === 0 ? 'forward hook' : 'backward hook';
}

/** A tuplet number needs no bracket where one beam shows the group. */
function tupletMark(bar: Bar, at: number): XmlElement[] {
  const tuplet = bar.tuplets[bar.events[at]?.tuplet ?? -1];
  if (!tuplet) return [];
  const beamed = bar.beams.some((group) => tuplet.events.every((i) => group.includes(i)));
  const marks: XmlElement[] = [];
  if (tuplet.events[0] === at)
    marks.push(el('tuplet', { type: 'start', number: 1, bracket: beamed ? 'no' : 'yes', 'show-number': 'actual' }));
  if (tuplet.events.at(-1) === at) marks.push(el('tuplet', { type: 'stop', number: 1 }));
  return marks;
}

function notations(bar: Bar, at: number, score: Score): XmlElement | undefined {
  const event = itemAt(bar.events, at);
  const marks = tupletMark(bar, at);
  if (event.kind === 'note') {
    const { event: index, tieIn, tieOut } = event;
    if (tieIn) marks.push(el('tied', { type: 'stop' }));
    if (tieOut) marks.push(el('tied', { type: 'start' }));
    if (!tieOut && score.slurs.some((slur) => slur.to === index)) marks.push(el('slur', { type: 'stop', number: 1 }));
    if (!tieIn && score.slurs.some((slur) => slur.from === index)) marks.push(el('slur', { type: 'start', number: 1 }));
    const mark = tieIn ? undefined : score.marks.get(index);
    const breath = !tieOut && score.breaths.has(index);
    if (mark || breath) marks.push(el('articulations', {}, mark && el(mark), breath && el('breath-mark', { placement: 'above' }, 'comma')));
  }
  return marks.length > 0 ? el('notations', {}, marks) : undefined;
}

function pitchOf({ pitch }: BarNote): XmlElement {
  return el(
    'pitch',
    {},
    el('step', {}, letterName(pitch.letter)),
    pitch.alter !== 0 && el('alter', {}, pitch.alter),
    el('octave', {}, pitch.octave),
  );
}

function accidental(event: BarNote): XmlElement | undefined {
  if (!event.sign) return undefined;
  const courtesy = event.sign.courtesy ? { cautionary: 'yes', parentheses: 'no' } : {};
  return el('accidental', courtesy, itemAt(SIGNS, event.sign.alter + 2));
}

export type NoteContext = {
  readonly score: Score;
  /** Parts of a quarter note in which durations are counted. */
  readonly divisions: number;
};

/** The event at this place of the bar. */
export function noteElement(bar: Bar, at: number, { score, divisions }: NoteContext): XmlElement {
  const event = itemAt(bar.events, at);
  const duration = mul(event.duration, frac(4 * divisions));
  assert(duration.d === 1, 'divisions hold every duration');
  const full = event.kind === 'rest' && event.full;
  const tuplet = bar.tuplets[event.tuplet ?? -1];
  return el(
    'note',
    {},
    event.kind === 'note' ? pitchOf(event) : el('rest', full ? { measure: 'yes' } : {}),
    el('duration', {}, duration.n),
    event.kind === 'note' && [event.tieIn && el('tie', { type: 'stop' }), event.tieOut && el('tie', { type: 'start' })],
    el('voice', {}, 1),
    !full && el('type', {}, typeName(event.base)),
    Array.from({ length: full ? 0 : event.dots }, () => el('dot')),
    event.kind === 'note' && accidental(event),
    tuplet && timeModification(tuplet, event, bar),
    beams(bar, at),
    notations(bar, at, score),
  );
}
