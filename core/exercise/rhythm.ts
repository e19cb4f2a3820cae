/** Rhythms: the note values that carry a figure. */
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import { add, div, equal, type Fraction, frac, mul, parseFraction, sum } from '../theory/fraction.js';

export type Tuplet = {
  /** 3 in the time of 2: actual 3, normal 2. */
  readonly actual: number;
  readonly normal: number;
  /** Sum of the durations of the whole tuplet group, in whole notes (sounding time). */
  readonly total: Fraction;
};

export type RhythmValue = {
  /** Written value without dots: 1/4 is a quarter. */
  readonly base: Fraction;
  readonly dots: number;
  readonly tuplet?: Tuplet;
  /** Time it takes: base, dots and tuplet together. */
  readonly duration: Fraction;
};

/** Values in turn over the figure's tones, repeated as often as needed. */
export type Rhythm = { readonly text: string; readonly values: readonly RhythmValue[] };

export type RhythmName = {
  /** What the author writes: `eighth triplets`. */
  readonly name: string;
  readonly title: string;
  /** The same in note values: `3:2(1/8 1/8 1/8)`. */
  readonly text: string;
};

export const RHYTHM_NAMES: readonly RhythmName[] = [
  { name: 'halves', title: 'Halves', text: '1/2' },
  { name: 'quarters', title: 'Quarters', text: '1/4' },
  { name: 'eighths', title: 'Eighths', text: '1/8' },
  { name: 'sixteenths', title: 'Sixteenths', text: '1/16' },
  { name: 'quarter triplets', title: 'Quarter triplets', text: '3:2(1/4 1/4 1/4)' },
  { name: 'eighth triplets', title: 'Eighth triplets', text: '3:2(1/8 1/8 1/8)' },
  { name: 'sixteenth sextuplets', title: 'Sixteenth sextuplets', text: '6:4(1/16 1/16 1/16 1/16 1/16 1/16)' },
  { name: 'long-short triplets', title: 'Long-short triplets', text: '3:2(1/4 1/8)' },
  { name: 'dotted quarter and eighth', title: 'Dotted quarter, eighth', text: '1/4. 1/8' },
  { name: 'dotted eighth and sixteenth', title: 'Dotted eighth, sixteenth', text: '1/8. 1/16' },
  { name: 'quarter and two eighths', title: 'Quarter, two eighths', text: '1/4 1/8 1/8' },
  { name: 'eighth and two sixteenths', title: 'Eighth, two sixteenths', text: '1/8 1/16 1/16' },
  { name: 'two sixteenths and eighth', title: 'Two sixteenths, eighth', text: '1/16 1/16 1/8' },
];

export const MAX_VALUES = 64;

type Span = readonly [number, number];
type Piece = { readonly kind: 'value' | 'open' | 'close' | 'other'; readonly text: string; readonly span: Span };

const problem = (code: string, message: string, span: Span): Issue => error(code, [], message, span);

/** Whole note to thirty-second. */
const isBase = (value: Fraction): boolean => value.n === 1 && [1, 2, 4, 8, 16, 32].includes(value.d);

/** Written length: each dot adds half of what went before. */
const dotted = (base: Fraction, dots: number): Fraction => mul(base, frac(2 ** (dots + 1) - 1, 2 ** dots));

function pieces(text: string): readonly Piece[] {
  return [...text.matchAll(/\d+:\d+\s*\(|[\d/.]+(?![\d:])|[()]|[^\s()\d]+|[^\s()]+/g)].map((match) => {
    const piece = match[0];
    const kind = piece.endsWith('(') && piece !== '(' ? 'open' : piece === ')' ? 'close' : /^[\d/.]+$/.test(piece) ? 'value' : 'other';
    return { kind, text: piece, span: [match.index, match.index + piece.length] };
  });
}

/** How a value that is not written as one is meant, if that is clear: 3/8 is `1/4.`, 2/4 is `1/2`, 8 is `1/8`. */
function plainly(value: Fraction): string | undefined {
  const bases = [1, 2, 4, 8, 16, 32];
  if (value.d === 1 && bases.includes(value.n)) return `1/${value.n}`;
  const written = bases.flatMap((d) => [0, 1, 2].map((dots) => ({ d, dots })));
  const found = written.find(({ d, dots }) => equal(dotted(frac(1, d), dots), value));
  return found && `1/${found.d}${'.'.repeat(found.dots)}`;
}

const missingBlank = (span: Span): Issue => problem('rhythm-missing-blank', 'Put a blank between note values: write `1/8 1/8`.', span);

function parseValue({ text, span }: Piece): RhythmValue | Issue {
  if ((text.match(/\//g) ?? []).length > 1 || /\.\d/.test(text)) return missingBlank(span);
  const number = text.replace(/\.+$/, '');
  const dots = text.length - number.length;
  const base = parseFraction(number);
  // The fraction as written counts: 2/4 is not taken for a half.
  if (!base || !isBase(base) || number !== `1/${base.d}`) {
    const better = base && dots === 0 ? plainly(base) : undefined;
    const remedy = better ? `write \`${better}\`` : 'write one of 1/1, 1/2, 1/4, 1/8, 1/16, 1/32, with a dot or two behind it when dotted';
    return problem('rhythm-value', `\`${text}\` is not a note value: ${remedy}.`, span);
  }
  if (dots > 2) return problem('rhythm-dots', 'A note value takes at most two dots: take some away.', span);
  return { base, dots, duration: dotted(base, dots) };
}

/** Gives the values of one tuplet their time, or says why they do not fill it. */
function tuplet(open: Piece, values: readonly RhythmValue[], end: number): readonly RhythmValue[] | Issue {
  const [actual, normal] = open.text
    .replace(/\s*\($/, '')
    .split(':')
    .map(Number) as [number, number];
  const span: Span = [open.span[0], end];
  if (actual < 2 || normal < 2 || actual > 15 || normal > 15 || actual === normal || actual >= 2 * normal || normal >= 2 * actual) {
    return problem(
      'rhythm-tuplet-ratio',
      `\`${actual}:${normal}\` is not a tuplet: write two different numbers from 2 to 15, neither twice the other or more, such as 3:2 or 5:4.`,
      open.span,
    );
  }
  const unit = div(sum(values.map((v) => v.duration)), frac(actual));
  if (!isBase(unit)) {
    const example = `${actual}:${normal}(${Array.from({ length: actual }, () => '1/8').join(' ')})`;
    return problem(
      'rhythm-tuplet-sum',
      `The values in this tuplet must add up to ${actual} equal notes, such as \`${example}\`: add or change values.`,
      span,
    );
  }
  const shared: Tuplet = { actual, normal, total: mul(unit, frac(normal)) };
  return values.map((v) => ({ ...v, tuplet: shared, duration: mul(v.duration, frac(normal, actual)) }));
}

function strayIssue({ text, span }: Piece): Issue {
  if (text === 'r') return problem('rhythm-rest', 'A rhythm has no rests: write `r` in the figure instead.', span);
  const comma = text.search(/[,;]/);
  if (comma >= 0) {
    return problem('rhythm-comma', 'Note values are separated by blanks: write `1/8 1/16 1/16`.', [span[0] + comma, span[0] + comma + 1]);
  }
  if (text === '(') return problem('rhythm-tuplet-open', 'Two numbers stand before the bracket of a tuplet: write `3:2(`.', span);
  if (/^\d+:\d+$/.test(text)) {
    return problem('rhythm-tuplet-open', `The values of a tuplet stand in brackets: write \`${text}(1/8 …)\`.`, span);
  }
  return problem(
    'rhythm-unknown',
    `\`${text}\` has no meaning in a rhythm: write note values such as \`1/8\`, \`1/4.\` or \`3:2(1/8 1/8 1/8)\`.`,
    span,
  );
}

function parseValues(text: string): Result<readonly RhythmValue[]> {
  const issues: Issue[] = [];
  const values: RhythmValue[] = [];
  let group: { open: Piece; values: RhythmValue[]; sound: boolean } | undefined;
  const wrong = (issue: Issue): void => {
    issues.push(issue);
    if (group) group.sound = false;
  };
  let end = 0;
  for (const piece of pieces(text)) {
    if (piece.kind === 'value' && piece.span[0] === end && /[\d.)]/.test(text[end - 1] ?? '')) {
      wrong(missingBlank(piece.span));
    } else if (piece.kind === 'value') {
      const value = parseValue(piece);
      if ('code' in value) wrong(value);
      else (group?.values ?? values).push(value);
    } else if (piece.kind === 'open') {
      if (group) wrong(problem('rhythm-tuplet-nested', 'A tuplet cannot stand inside another: close the first one with `)`.', piece.span));
      else group = { open: piece, values: [], sound: true };
    } else if (piece.kind === 'close' && group) {
      const filled = group.sound ? tuplet(group.open, group.values, piece.span[1]) : [];
      if ('code' in filled) issues.push(filled);
      else values.push(...filled);
      group = undefined;
    } else if (piece.kind === 'close') {
      wrong(problem('rhythm-tuplet-close', 'This bracket closes no tuplet: take it out, or write `3:2(` before the values.', piece.span));
    } else {
      wrong(strayIssue(piece));
    }
    end = piece.span[1];
  }
  if (group) issues.push(problem('rhythm-tuplet-close', 'This tuplet is not closed: write `)` behind its last value.', group.open.span));
  return issues.length > 0 ? bad(...issues) : good(values);
}

/**
 * Reads a rhythm: a name of RHYTHM_NAMES, or note values separated by blanks, as parts of a whole note (`1/4`), with a
 * dot or two behind (`1/4.`); a tuplet is `3:2(1/8 1/8 1/8)`, three in the time of two. Durations are exact. Spans
 * count UTF-16 code units. Issues have codes `rhythm-…`.
 */
export function parseRhythm(text: string): Result<Rhythm> {
  const words = text.trim().toLowerCase().replace(/\s+/g, ' ');
  const named = RHYTHM_NAMES.find((r) => r.name === words);
  const whole: Span = [0, text.length];
  if (words === '')
    return bad(problem('rhythm-empty', 'The rhythm is empty: write note values such as `1/8`, or a name such as `eighths`.', whole));
  if (!named && /^[a-z -]{2,}$/.test(words)) {
    const names = RHYTHM_NAMES.map((r) => r.name);
    const remedy = didYouMean(words, names) || `: write note values such as \`1/8\`, or one of ${names.join(', ')}.`;
    return bad(problem('rhythm-name', `There is no rhythm called "${text.trim()}"${remedy}`, whole));
  }
  const read = parseValues(named?.text ?? text);
  if (!read.ok) return read;
  if (read.value.length > MAX_VALUES) {
    return bad(
      problem('rhythm-too-long', `A rhythm has at most ${MAX_VALUES} values, this one has ${read.value.length}: shorten it.`, whole),
    );
  }
  return good({ text, values: read.value });
}

/** Time of all values of a rhythm once, in whole notes. */
export const rhythmLength = (rhythm: Rhythm): Fraction => rhythm.values.reduce((time, value) => add(time, value.duration), frac(0));
