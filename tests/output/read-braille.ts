/**
 * A reader of values in music braille, written from the rules alone: the Music Braille Code (BANA, 1997), 1.1 and 7.2 to 7.4,
 * and the New International Manual of Braille Music Notation (1996), 4-2 to 4-6. It tells every way in which a bar can be read.
 */

type Sound = { readonly kind: 'sound'; readonly shape: 1 | 2 | 4 | 8; readonly rest: boolean; readonly dots: number };
type Cell = Sound | { readonly kind: 'small' | 'large' };

const SHAPES = [
  [8, 'DEFGHIJ', 'X'],
  [4, '?:$]\\[W', 'V'],
  [2, 'NOPQRST', 'U'],
  [1, 'YZ&=(!)', 'M'],
] as const;

/** Words, ends, ties, breaths, marks, accidentals, octave marks and slurs: they tell nothing of values. */
const SILENT = /^(?:>[A-Z]+'?|<K'?|@C|,\/|[._]?8|[<%*@^_".;,C])/;

/** A bar in ASCII braille as signs of value, notes and rests. Bars with tuplets are not read. */
function lexed(bar: string): Cell[] {
  const cells: Cell[] = [];
  let left = bar;
  while (left !== '') {
    const said = /^([,^])<1/.exec(left);
    const sign = left[0] as string;
    const found = SHAPES.find(([, notes, rest]) => notes.includes(sign) || rest === sign);
    const silent = SILENT.exec(left);
    if (said) {
      cells.push({ kind: said[1] === ',' ? 'small' : 'large' });
      left = left.slice(3);
    } else if (found) {
      const dots = /^'*/.exec(left.slice(1))?.[0].length ?? 0;
      cells.push({ kind: 'sound', shape: found[0], rest: sign === found[2], dots });
      left = left.slice(1 + dots);
    } else if (silent) left = left.slice(silent[0].length);
    else throw new Error(`"${left}" is no sign of a plain bar`);
  }
  return cells;
}

/** Units of a whole note, fine enough for a doubly dotted 128th. */
const WHOLE = 1024;

const dotted = (denominator: number, dots: number): number => (WHOLE / denominator) * (2 - 2 ** -dots);

/** How many notes of 1/`denominator` make a group that begins at this place; 0 where none may begin. */
function groupAt(at: number, denominator: number, beats: number, unit: number): number {
  if (denominator === 16 && unit === 8) {
    const sixes = beats % 3 === 0 ? at % 384 === 0 : beats === 5 ? at === 0 : at === 512;
    return sixes ? 6 : 0;
  }
  return at % ((4 * WHOLE) / denominator) === 0 ? 4 : 0;
}

/**
 * Every way to read the bar so that it is full: lengths of its notes and rests in 1/1024 of a whole note. In a bar with signs
 * of value notes are large until a sign says otherwise, if it can be filled so; else a sign speaks of the next note alone.
 */
export function readings(bar: string, beats: number, unit: number): string[] {
  const cells = lexed(bar);
  const length = (beats * WHOLE) / unit;
  const only = cells.length === 1 ? cells[0] : undefined;
  if (only?.kind === 'sound' && only.rest && only.shape === 1) return [`${length}`];
  const found = new Set<string>();
  const go = (i: number, at: number, said: 'small' | 'large' | undefined, lasting: boolean, lengths: readonly number[]): void => {
    if (at > length) return;
    const cell = cells[i];
    if (!cell) {
      if (at === length) found.add(lengths.join(' '));
      return;
    }
    if (cell.kind !== 'sound') {
      go(i + 1, at, cell.kind, lasting, lengths);
      return;
    }
    const { shape, dots } = cell;
    const then = lasting ? said : undefined;
    const one = (value: number): void => go(i + 1, at + value, then, lasting, [...lengths, value]);
    const eighth = shape === 8 && lasting;
    if (said !== 'small' || eighth) one(dotted(shape, dots));
    if (said !== 'large' && !eighth) one(dotted(shape * 16, dots));
    const count = shape === 8 || dots > 0 || said === 'large' ? 0 : groupAt(at, shape * 16, beats, unit);
    const others = cells.slice(i + 1, i + count);
    const alike = others.every((other) => other.kind === 'sound' && other.shape === 8 && other.dots === 0 && !other.rest);
    if (count === 0 || others.length < count - 1 || !alike) return;
    const each = WHOLE / (shape * 16);
    go(i + count, at + count * each, then, lasting, [...lengths, ...Array.from({ length: count }, () => each)]);
  };
  if (cells.some(({ kind }) => kind !== 'sound')) go(0, 0, 'large', true, []);
  if (found.size === 0) go(0, 0, undefined, false, []);
  return [...found];
}
