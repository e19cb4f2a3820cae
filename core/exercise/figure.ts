/** A figure: the short pattern, in scale degrees, that an exercise carries through the keys. */
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { type Interval, interval, octaves, plus } from '../theory/interval.js';
import type { Mode } from '../theory/key.js';
import { degreeInterval, type ScaleName, scaleMode } from '../theory/scale.js';

export type Tone =
  | {
      readonly kind: 'note';
      /** 1 = tonic, 8 = octave, 9 above it; -7 = the seventh below the tonic. Never 0. */
      readonly degree: number;
      /** Relative to the major scale when written (b3, #4), 0 and `plain` when not. */
      readonly alter: number;
      /** No sign was written: the degree is read in the exercise's scale. */
      readonly plain: boolean;
      readonly span: readonly [number, number];
    }
  | { readonly kind: 'rest'; readonly span: readonly [number, number] };

export type Figure = { readonly text: string; readonly tones: readonly Tone[] };

export type NoteTone = Extract<Tone, { kind: 'note' }>;

export const MAX_DEGREE = 22;
export const MAX_TONES = 64;

type Span = readonly [number, number];

const SIGNS: Readonly<Record<string, number>> = { b: -1, '♭': -1, '#': 1, '♯': 1, '𝄫': -2, '𝄪': 2 };
const isSign = (c: string | undefined): boolean => c !== undefined && c in SIGNS;
const isMinus = (c: string | undefined): boolean => c === '-' || c === '−';
const isDigit = (c: string | undefined): boolean => c !== undefined && c >= '0' && c <= '9';

const problem = (code: string, message: string, span: Span): Issue => error(code, [], message, span);

/** What is wrong with a word that cannot be read on from this character. */
function strayCharacter(c: string, span: Span): Issue {
  if (c === ',' || c === ';') {
    return problem('figure-comma', 'Degrees are separated by blanks: write `1 2 3` without commas or semicolons.', span);
  }
  if (c === '♮' || c === 'n') {
    return problem('figure-natural', 'A figure has no natural sign: write the degree alone, and choose the scale it is read in.', span);
  }
  return problem(
    'figure-unknown-character',
    `The character \`${c}\` has no meaning in a figure: write degrees such as \`1\`, \`b3\`, \`#4\`, \`-7\`, or \`r\` for a rest.`,
    span,
  );
}

/** Why something follows a complete tone without a blank. `rest` is what follows, `at` its place. */
function strayTail(rest: readonly string[], at: number): Issue {
  const [c = '', next] = rest;
  const span: Span = [at, at + c.length];
  if (isSign(c) && !isSign(next) && !isDigit(next)) {
    return problem('figure-sign-after-degree', 'A sign stands before its degree: write `b3`, not `3b`.', span);
  }
  if (isSign(c) || isMinus(c) || isDigit(c) || c === 'r') {
    return problem('figure-missing-blank', 'Put a blank between two tones: write `1 b3`, not `1b3`.', span);
  }
  return strayCharacter(c, span);
}

/** Checks the number of a degree. `digits` stand at `at`. */
function degreeIssue(digits: string, at: number, below: boolean): Issue | undefined {
  const span: Span = [at, at + digits.length];
  const value = Number(digits);
  if (value === 0) return problem('figure-degree-zero', 'There is no degree 0: the tonic is 1, and its lower octave is -1.', span);
  if (digits.startsWith('0')) return problem('figure-leading-zero', `Write the degree without a leading zero: \`${value}\`.`, span);
  if (value > MAX_DEGREE && digits.length > 2 && !digits.includes('0')) {
    const apart = digits.length > 12 ? `${[...digits.slice(0, 12)].join(' ')} …` : [...digits].join(' ');
    return problem('figure-missing-blank', `Put a blank between degrees: write \`${apart}\`.`, span);
  }
  if (value > MAX_DEGREE) {
    const apart = digits.includes('0') ? '' : ` If two degrees were meant, put a blank between them: \`${[...digits].join(' ')}\`.`;
    return problem(
      'figure-degree-high',
      `The highest degree is ${MAX_DEGREE}, three octaves above the tonic: write a lower one.${apart}`,
      span,
    );
  }
  if (below && value > 7) {
    return problem(
      'figure-degree-low',
      'Below the tonic there are -7 (just under 1) down to -1 (an octave under 1): write one of these.',
      span,
    );
  }
  return undefined;
}

/** Reads one word of a figure that begins at `start`. */
function parseTone(word: string, start: number): Tone | Issue {
  const chars = [...word];
  const at = (index: number): number => start + chars.slice(0, index).join('').length;
  const whole: Span = [start, start + word.length];
  let i = 0;
  if (chars[0] === 'r') return chars.length === 1 ? { kind: 'rest', span: whole } : strayTail(chars.slice(1), at(1));
  const below = isMinus(chars[0]);
  if (below) i++;
  const signsFrom = i;
  while (isSign(chars[i])) i++;
  const signs = chars.slice(signsFrom, i).map((c) => SIGNS[c] as number);
  const alter = signs.reduce((a, b) => a + b, 0);
  if (signs.some((s) => s > 0) && signs.some((s) => s < 0)) {
    return problem('figure-mixed-signs', 'A degree takes flats or sharps, not both: keep one kind.', [at(signsFrom), at(i)]);
  }
  if (Math.abs(alter) > 2) {
    return problem('figure-too-many-signs', 'A degree takes at most two flats or two sharps: take some away.', [at(signsFrom), at(i)]);
  }
  const digitsFrom = i;
  while (isDigit(chars[i])) i++;
  const digits = chars.slice(digitsFrom, i).join('');
  if (digits === '') {
    const c = chars[i];
    if (c === undefined) return problem('figure-no-degree', `A degree must follow \`${word}\`: write \`${word}3\`, for example.`, whole);
    const span: Span = [at(i), at(i + 1)];
    if (isMinus(c) && !below) return problem('figure-minus-first', 'The minus stands first: write `-b7`, not `b-7`.', span);
    if (isMinus(c)) return problem('figure-two-minuses', 'A degree takes one minus: write `-7`.', span);
    return strayCharacter(c, span);
  }
  if (i < chars.length) return strayTail(chars.slice(i), at(i));
  const wrong = degreeIssue(digits, at(digitsFrom), below);
  if (wrong) return wrong;
  const degree = Number(digits) * (below ? -1 : 1);
  return { kind: 'note', degree, alter, plain: signs.length === 0, span: whole };
}

/**
 * Reads a figure: tones separated by blanks, each a degree from 1 to 22, with `b bb # ##` (or ♭ 𝄫 ♯ 𝄪) before the
 * number when altered against the major scale; a leading minus puts it below the tonic (`-7` just below 1, `-1` an
 * octave below); `r` is a rest. Spans count UTF-16 code units. Every wrong word gives its own Issue, codes `figure-…`.
 */
export function parseFigure(text: string): Result<Figure> {
  const parts = [...text.matchAll(/\S+/g)].map((match) => parseTone(match[0], match.index));
  const issues = parts.filter((part): part is Issue => 'code' in part);
  const tones = parts.filter((part): part is Tone => 'kind' in part);
  if (issues.length > 0) return bad(...issues);
  const whole: Span = [0, text.length];
  if (tones.length === 0) return bad(problem('figure-empty', 'The figure is empty: write degrees such as `1 2 3 5`.', whole));
  const extra = tones[MAX_TONES];
  if (extra) {
    const span: Span = [extra.span[0], text.length];
    return bad(problem('figure-too-long', `A figure has at most ${MAX_TONES} tones, this one has ${tones.length}: shorten it.`, span));
  }
  if (tones.every((tone) => tone.kind === 'rest')) {
    return bad(problem('figure-only-rests', 'The figure has only rests: write at least one degree.', whole));
  }
  return good({ text, tones });
}

/** The tone as written, in plain signs: `b3`, `-7`, `##4`, `r`. */
export function toneText(tone: Tone): string {
  if (tone.kind === 'rest') return 'r';
  const sign = tone.alter < 0 ? 'b'.repeat(-tone.alter) : '#'.repeat(tone.alter);
  return (tone.degree < 0 ? '-' : '') + sign + Math.abs(tone.degree);
}

export const figureText = (tones: readonly Tone[]): string => tones.map(toneText).join(' ');

/**
 * Interval of a tone above the tonic (negative below it). Plain degrees are read in the scale, signed degrees against
 * the major scale. `mode` is the mode of the key in the key order: in a minor key, plain degrees of a figure in a
 * major scale are read in harmonic minor. (Do not pass `figureMode` here: a `b3` must not change the other degrees.)
 */
export function toneInterval(tone: NoteTone, scale: ScaleName, mode: Mode = 'major'): Interval {
  if (!tone.plain) {
    const octave = tone.degree < 0 ? -1 : 0;
    return plus(interval(Math.abs(tone.degree) - 1, tone.alter), octaves(octave));
  }
  return degreeInterval(tone.degree, mode === 'minor' && scaleMode(scale) === 'major' ? 'harmonic minor' : scale);
}

const notesOf = (figure: Figure): readonly NoteTone[] => figure.tones.filter((tone) => tone.kind === 'note');

/** Lowest and highest tone of a figure in semitones above the tonic: `1 2 3 5` gives 0 and 7. */
export function figureSpan(figure: Figure, scale: ScaleName, mode: Mode = 'major'): { readonly low: number; readonly high: number } {
  const semitones = notesOf(figure).map((tone) => toneInterval(tone, scale, mode).semitones);
  return { low: Math.min(...semitones), high: Math.max(...semitones) };
}

/**
 * Mode of the key signature that serves a figure: minor when its scale is minor, or when it has a `b3` in some octave
 * and the natural third in none. (`#2` is no minor third: it is spelled on another letter.)
 */
export function figureMode(figure: Figure, scale: ScaleName): Mode {
  if (scaleMode(scale) === 'minor') return 'minor';
  const thirds = notesOf(figure).filter((tone) => (Math.abs(tone.degree) - 1) % 7 === 2);
  return thirds.some((tone) => tone.alter === -1) && !thirds.some((tone) => tone.alter === 0) ? 'minor' : 'major';
}

/** The figure backwards, its text and spans rewritten to match. */
export function reversed(figure: Figure): Figure {
  let at = 0;
  const tones = [...figure.tones].reverse().map((tone): Tone => {
    const length = toneText(tone).length;
    const span: Span = [at, at + length];
    at += length + 1;
    return { ...tone, span };
  });
  return { text: figureText(tones), tones };
}

/**
 * How many transpositions of a figure differ as sets of pitch classes: 12 for most, 2 for the whole-tone scale, 3 for
 * the octatonic scale and the diminished seventh, 4 for the augmented triad, 1 for the chromatic scale.
 */
export function distinctKeys(figure: Figure, scale: ScaleName): number {
  const classes = new Set(notesOf(figure).map((tone) => ((toneInterval(tone, scale).semitones % 12) + 12) % 12));
  for (let shift = 1; shift < 12; shift++) {
    if ([...classes].every((c) => classes.has((c + shift) % 12))) return shift;
  }
  return 12;
}
