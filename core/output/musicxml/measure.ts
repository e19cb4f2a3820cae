/** One bar of one part as a MusicXML 4.0 measure. */
import type { Bar } from '../../engrave/bar.js';
import { usesSignatures } from '../../engrave/bars.js';
import { degreeText } from '../../engrave/signed-text.js';
import type { Line } from '../../player/line.js';
import type { Clef, Instrument } from '../../player/player.js';
import { type Fraction, frac, mul } from '../../theory/fraction.js';
import type { Interval } from '../../theory/interval.js';
import { keyText, type Mode } from '../../theory/key.js';
import type { NotatedStaff } from '../notated-exercise.js';
import { type NoteContext, noteElement, typeName } from './note.js';
import { el, type XmlElement } from './xml-tree.js';

const CLEFS: Readonly<Record<Clef, readonly [sign: string, line: number]>> = {
  treble: ['G', 2],
  alto: ['C', 3],
  tenor: ['C', 4],
  bass: ['F', 4],
};

/**
 * What is added to the written pitch to sound it. Octaves are split off where the interval is an octave or more, and only
 * there (W3C MusicXML 4.0, transpose and octave-change). Undefined at concert pitch.
 */
export function transposeElement({ steps, semitones }: Interval, name = 'transpose'): XmlElement | undefined {
  if (steps === 0 && semitones === 0) return undefined;
  const octaves = Math.trunc(semitones / 12);
  return el(
    name,
    {},
    el('diatonic', {}, steps - 7 * octaves),
    el('chromatic', {}, semitones - 12 * octaves),
    octaves !== 0 && el('octave-change', {}, octaves),
  );
}

const keyElement = (fifths: number, mode: Mode | 'none'): XmlElement => el('key', {}, el('fifths', {}, fifths), el('mode', {}, mode));

const clefParts = (clef: Clef): readonly [XmlElement, XmlElement] => {
  const [sign, onLine] = CLEFS[clef];
  return [el('sign', {}, sign), el('line', {}, onLine)];
};

/** How a part is to be made from a staff of a concert score, whose own staff has octave transpositions only. */
function forPart(own: Instrument | undefined): XmlElement | undefined {
  if (!own || own.transposition.semitones % 12 === 0) return undefined;
  const transposed = transposeElement(own.transposition, 'part-transpose');
  return transposed && el('for-part', {}, el('part-clef', {}, clefParts(own.clef)), transposed);
}

function attributes(bar: Bar, line: Line, { divisions, own }: MeasureSpec): XmlElement | undefined {
  const key = keyElement(bar.fifths, usesSignatures(line) ? (bar.starts[0]?.key.mode ?? 'major') : 'none');
  if (bar.index > 0) return bar.fifthsBefore === undefined ? undefined : el('attributes', {}, key);
  const { clef, transposition } = line.player.instrument;
  const { beats, unit } = line.exercise.metre;
  return el(
    'attributes',
    {},
    el('divisions', {}, divisions),
    key,
    el('time', {}, el('beats', {}, beats), el('beat-type', {}, unit)),
    el('clef', {}, clefParts(clef)),
    transposeElement(transposition) ?? forPart(own),
  );
}

function words(placement: 'above' | 'below', text: string, style: XmlElement['attributes']): XmlElement {
  return el('direction', { placement }, el('direction-type', {}, el('words', style, text)));
}

/** `♩ = 60–120`; it sounds at the first of the two. */
function tempoDirection(beat: Fraction, from: number, to: number): XmlElement {
  const dotted = beat.n === 3;
  const plain = dotted ? mul(beat, frac(2, 3)) : beat;
  const metronome = el(
    'metronome',
    { parentheses: 'no' },
    el('beat-unit', {}, typeName(plain)),
    dotted && el('beat-unit-dot'),
    el('per-minute', {}, from === to ? from : `${from}–${to}`),
  );
  const quarters = mul(beat, frac(4));
  return el(
    'direction',
    { placement: 'above', directive: 'yes' },
    el('direction-type', {}, metronome),
    el('sound', { tempo: (from * quarters.n) / quarters.d }),
  );
}

/** Words and signs that stand before the event: key name, degree number, dynamic. */
function directionsBefore(bar: Bar, at: number, line: Line): XmlElement[] {
  const event = bar.events[at];
  if (!event || (event.kind === 'note' && event.tieIn)) return [];
  const { exercise } = line;
  const found: XmlElement[] = [];
  const start = bar.starts.find((one) => one.event === event.event);
  if (start && exercise.keyNames) found.push(words('above', keyText(start.key), { 'font-weight': 'bold' }));
  const lineEvent = line.events[event.event];
  if (lineEvent?.kind !== 'note') return found;
  if (exercise.degreeNumbers && lineEvent.statement === 0) found.push(words('below', degreeText(lineEvent.degree), {}));
  const first = line.events.find((one) => one.kind === 'note');
  if (exercise.dynamic && first === lineEvent)
    found.push(el('direction', { placement: 'below' }, el('direction-type', {}, el('dynamics', {}, el(exercise.dynamic)))));
  return found;
}

export type MeasureSpec = {
  /** Counted through the whole file. */
  readonly number: number;
  readonly divisions: number;
  readonly newSystem: boolean;
  readonly newPage: boolean;
  /** Printed over the bar: the title of an exercise in a file of several. */
  readonly heading: string | undefined;
  /** Tempo and heading stand over the top staff only. */
  readonly top: boolean;
  /** In a concert score: the player's own instrument. */
  readonly own: Instrument | undefined;
};

/** `number` runs through the file, the printed number through the exercise. */
export function measureElement(bar: Bar, { line, score }: NotatedStaff, spec: MeasureSpec): XmlElement {
  const { exercise } = line;
  const own = bar.index + 1;
  const context: NoteContext = { score, divisions: spec.divisions };
  const print = spec.newPage ? el('print', { 'new-page': 'yes' }) : spec.newSystem ? el('print', { 'new-system': 'yes' }) : undefined;
  const style = { single: undefined, double: 'light-light', final: 'light-heavy' }[bar.barline];
  const tempo = bar.index === 0 && spec.top ? exercise.tempo : undefined;
  return el(
    'measure',
    { number: spec.number, text: own === spec.number ? undefined : own },
    print,
    attributes(bar, line, spec),
    spec.heading !== undefined && spec.top && words('above', spec.heading, { 'font-weight': 'bold', 'font-size': 14 }),
    tempo && tempoDirection(tempo.beat, tempo.from, tempo.to),
    bar.events.flatMap((_, at) => [...directionsBefore(bar, at, line), noteElement(bar, at, context)]),
    style !== undefined && el('barline', { location: 'right' }, el('bar-style', {}, style)),
  );
}
