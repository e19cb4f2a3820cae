/** An exercise in words, for a screen reader or to be read aloud: what it is, then bar by bar. */
import type { Bar, BarEvent, StatementStart } from '../../engrave/bar.js';
import type { Dynamic } from '../../exercise/exercise.js';
import type { Line } from '../../player/line.js';
import { type Fraction, frac, mul } from '../../theory/fraction.js';
import { keyWords } from '../../theory/key.js';
import { metreText } from '../../theory/metre.js';
import { letterName, type Pitch } from '../../theory/pitch.js';
import type { NotatedStaff } from '../notated-exercise.js';

const DYNAMICS: Readonly<Record<Dynamic, string>> = {
  pp: 'pianissimo',
  p: 'piano',
  mp: 'mezzo piano',
  mf: 'mezzo forte',
  f: 'forte',
  ff: 'fortissimo',
};

const VALUES: Readonly<Record<number, string>> = {
  1: 'whole',
  2: 'half',
  4: 'quarter',
  8: 'eighth',
  16: 'sixteenth',
  32: 'thirty-second',
  64: 'sixty-fourth',
};

const TUPLETS: Readonly<Record<number, string>> = {
  2: 'duplet',
  3: 'triplet',
  4: 'quadruplet',
  5: 'quintuplet',
  6: 'sextuplet',
  7: 'septuplet',
};

const SIGNS: Readonly<Record<number, string>> = { [-2]: 'double flat', [-1]: 'flat', 0: '', 1: 'sharp', 2: 'double sharp' };

const joined = (words: readonly (string | false | undefined)[], by = ' '): string => words.filter(Boolean).join(by);

/** `dotted quarter`, `triplet eighth`. */
function valueWords(base: Fraction, dots: number, actual?: number): string {
  const dotted = dots === 2 ? 'double dotted' : dots === 1 && 'dotted';
  const tuplet = actual !== undefined && (TUPLETS[actual] ?? `${actual}-tuplet`);
  return joined([tuplet, dotted, VALUES[base.d]]);
}

/** `B flat 4`. */
const pitchWords = (pitch: Pitch): string => joined([letterName(pitch.letter), SIGNS[pitch.alter], String(pitch.octave)]);

/** `flat 3`, `low 7`: as an author would say it. */
export function degreeWords(degree: string): string {
  const low = degree.startsWith('-');
  const signs = degree.replace(/[-\d]/g, '');
  const sign = signs.length === 2 ? `double ${signs[0] === 'b' ? 'flat' : 'sharp'}` : signs === 'b' ? 'flat' : signs === '#' && 'sharp';
  return joined([low && 'low', sign, degree.replace(/\D/g, '')]);
}

function tempoWords({ exercise: { tempo } }: Line): string | undefined {
  if (!tempo) return undefined;
  const dotted = tempo.beat.n === 3;
  const beat = valueWords(dotted ? mul(tempo.beat, frac(2, 3)) : tempo.beat, dotted ? 1 : 0);
  return `Tempo: ${beat} = ${tempo.from === tempo.to ? tempo.from : `${tempo.from} to ${tempo.to}`}.`;
}

function signatureWords(fifths: number): string {
  if (fifths === 0) return 'no sharps or flats';
  const count = Math.abs(fifths);
  return `${count} ${fifths > 0 ? 'sharp' : 'flat'}${count === 1 ? '' : 's'}`;
}

function transpositionWords({ player: { instrument } }: Line): string {
  const { semitones } = instrument.transposition;
  if (semitones === 0) return `For ${instrument.name}, at sounding pitch.`;
  return `For ${instrument.name}, written pitch: it sounds ${Math.abs(semitones)} half steps ${semitones < 0 ? 'lower' : 'higher'}.`;
}

function statementWords(line: Line, start: StatementStart): string {
  // Rests beyond the figure only fill up the time.
  const tones = line.events.filter((event) => event.statement === start.statement).slice(0, line.exercise.figure.tones.length);
  const degrees = tones.map((event) => (event.kind === 'note' ? degreeWords(event.degree) : 'rest'));
  const direction = line.statements[start.statement]?.direction;
  return `[${keyWords(start.key)}, ${direction}: ${degrees.join(', ')}]`;
}

type Context = NotatedStaff & { value: string };

function eventWords(bar: Bar, event: BarEvent, context: Context): string {
  const { score } = context;
  const value = valueWords(event.base, event.dots, bar.tuplets[event.tuplet ?? -1]?.actual);
  const changed = value !== context.value;
  context.value = value;
  if (event.kind === 'rest') return event.full ? 'whole bar rest' : `${value} rest`;
  const first = !event.tieIn;
  const last = !event.tieOut;
  return joined(
    [
      joined([event.tieIn && 'tied', pitchWords(event.pitch), changed && value]),
      first && score.marks.get(event.event),
      first && score.slurs.some((slur) => slur.from === event.event) && 'slur begins',
      last && score.slurs.some((slur) => slur.to === event.event) && 'slur ends',
      last && score.breaths.has(event.event) && 'breathe',
    ],
    ', ',
  );
}

function barWords(bar: Bar, context: Context): string {
  const signature = bar.fifthsBefore !== undefined && `Key signature: ${signatureWords(bar.fifths)}.`;
  const events = bar.events.map((event) => {
    const start = bar.starts.find((one) => one.event === event.event);
    const opens = start && !(event.kind === 'note' && event.tieIn);
    return joined([opens && statementWords(context.line, start), eventWords(bar, event, context)]);
  });
  const end = bar.barline === 'double' ? 'Double bar.' : bar.barline === 'final' && 'End.';
  return joined([`Bar ${bar.index + 1}:`, signature, `${events.join('; ')}.`, end]);
}

/**
 * Plain text, one bar a line. Pitches are written pitches with their octave (middle C is C 4); a note value is said where it
 * changes. Where a statement begins, its key, direction and degrees stand in square brackets.
 */
export function spokenText(title: string, own: NotatedStaff): string {
  const { line, score } = own;
  const { exercise } = line;
  const context: Context = { ...own, value: '' };
  const keys = line.statements.map((statement) => keyWords(statement.writtenKey));
  const figure = exercise.figure.tones.map((tone) =>
    tone.kind === 'rest' ? 'rest' : degreeWords(exercise.figure.text.slice(...tone.span)),
  );
  const length = score.bars.length;
  return [
    `${title}.`,
    transpositionWords(line),
    joined([
      `Metre: ${metreText(exercise.metre)}.`,
      `Key signature: ${signatureWords(score.bars[0]?.fifths ?? 0)}.`,
      tempoWords(line),
      exercise.dynamic && `Dynamic: ${DYNAMICS[exercise.dynamic]}.`,
    ]),
    `Figure: ${figure.join(', ')}.`,
    `Keys in order: ${keys.join(', ')}.`,
    ...(line.leftOut.length > 0 ? [`Left out for this instrument: ${line.leftOut.map(keyWords).join(', ')}.`] : []),
    `${length} bar${length === 1 ? '' : 's'}.`,
    '',
    ...score.bars.map((bar) => barWords(bar, context)),
    '',
  ].join('\n');
}
